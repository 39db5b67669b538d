/** The year as the page divides it; its days are those of `sun/calendar`. */
import { dayOfYear } from "../sun/calendar";

export const HOURS = 24;
export const MONTH_DAYS = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31] as const;

const DECEMBER_21 = dayOfYear(12, 21);
const JUNE_21 = dayOfYear(6, 21);

/** The day of the lowest, and of the highest noon sun outside the tropics. */
export const shortestDay = (north: boolean): number => (north ? DECEMBER_21 : JUNE_21);
export const longestDay = (north: boolean): number => (north ? JUNE_21 : DECEMBER_21);
