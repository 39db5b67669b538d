/** Days of the nominal year as the page counts them: 0 is 1 January, there is no leap day. */
export const DAYS = 365;
export const HOURS = 24;
export const MONTH_DAYS = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31] as const;
export const MONTH_STARTS: readonly number[] = MONTH_DAYS.map((_, month) =>
  MONTH_DAYS.slice(0, month).reduce((sum: number, days) => sum + days, 0),
);

const DEC_21 = 354;
const JUN_21 = 171;

/** The day of the lowest, and of the highest noon sun outside the tropics. */
export const shortestDay = (north: boolean): number => (north ? DEC_21 : JUN_21);
export const longestDay = (north: boolean): number => (north ? JUN_21 : DEC_21);

/** Month (1 to 12) and day of the month of a day of the year. */
export function monthAndDay(day: number): { month: number; day: number } {
  let month = 11;
  while ((MONTH_STARTS[month] ?? 0) > day) month -= 1;
  return { month: month + 1, day: day - (MONTH_STARTS[month] ?? 0) + 1 };
}

/** Day of the year of a month (1 to 12) and a day of it. */
export const dayOfYear = (month: number, day: number): number =>
  (MONTH_STARTS[month - 1] ?? 0) + day - 1;
