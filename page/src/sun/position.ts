/**
 * Where the sun stands at given instants, to a hundredth of a degree.
 *
 * Instants are seconds since 1970-01-01 00:00 UTC; angles are degrees, azimuths clockwise from
 * true north. The server reckons with a longer algorithm (`noonmark.sun.position`); this one
 * follows the hand without asking.
 *
 * Source: J. Meeus, Astronomical Algorithms, 2nd ed. 1998, chapter 25 (lower accuracy), 12, 13, 28.
 */

/** Where on earth: degrees, north and east positive, and m above the sea. */
export interface Spot {
  latitude: number;
  longitude: number;
  altitude: number;
}

/** The sun: its altitude as seen through the air, its true one, and its azimuth [deg]. */
export interface SunPosition {
  altitude: number;
  trueAltitude: number;
  azimuth: number;
}

/** Sunrise, solar noon and sunset in UTC seconds; null for a rise or set that never comes. */
export interface RiseSet {
  sunrise: number | null;
  noon: number;
  sunset: number | null;
}

/** Altitude of the sun's centre at rise and set: refraction plus half its disc. */
export const RISE_SET_ALTITUDE = -0.8333;

const DAY_S = 86400;
const SECONDS_PER_DEGREE = 240;
const DELTA_T_S = 69.3;
const PARALLAX = 8.794 / 3600;
const TEMPERATURE_C = 12;
const REFRACTED_BELOW = -(0.26667 + 0.5667);

interface Apparent {
  rightAscension: number;
  declination: number;
  meanLongitude: number;
  nutation: number;
}

/** The sun's declination [deg]. Source: Meeus equation 25.7, with 25.8 for its apparent place. */
export function declination(utc: number): number {
  return apparent(utc).declination;
}

/** Solar less mean time [min]. Source: Meeus equation 28.1. */
export function equationOfTime(utc: number): number {
  const { meanLongitude, rightAscension, nutation } = apparent(utc);
  return 4 * turned(meanLongitude - 0.0057183 - rightAscension + nutation);
}

/**
 * The sun over a spot. Source: Meeus equations 13.5 and 13.6; parallax by chapter 40; the light
 * bent by the air of the height, 12 degC, as by Bennett and Saemundsson (Meeus equation 16.4).
 */
export function sunPosition(utc: number, spot: Spot): SunPosition {
  const hour = rad(hourAngle(utc, spot.longitude));
  const dec = rad(declination(utc));
  const lat = rad(spot.latitude);
  const up = Math.sin(lat) * Math.sin(dec) + Math.cos(lat) * Math.cos(dec) * Math.cos(hour);
  const east = -Math.cos(dec) * Math.sin(hour);
  const north = Math.cos(lat) * Math.sin(dec) - Math.sin(lat) * Math.cos(dec) * Math.cos(hour);
  const level = Math.hypot(east, north);
  const trueAltitude = deg(Math.atan2(up, level)) - PARALLAX * level;
  return {
    trueAltitude,
    altitude: trueAltitude + refraction(trueAltitude, spot.altitude),
    azimuth: (deg(Math.atan2(east, north)) + 360) % 360,
  };
}

/**
 * Rise, noon and set around the noon that the spot itself has on a calendar date, which is named
 * by the UTC seconds of its 00:00 UTC.
 */
export function riseSetNoon(midnightUtc: number, spot: Omit<Spot, "altitude">): RiseSet {
  let noon = midnightUtc + DAY_S / 2 - spot.longitude * SECONDS_PER_DEGREE;
  for (let turn = 0; turn < 2; turn++) {
    noon -= hourAngle(noon, spot.longitude) * SECONDS_PER_DEGREE;
  }
  return { sunrise: crossing(noon, -1, spot), noon, sunset: crossing(noon, 1, spot) };
}

/** The hour angle of sunset [deg], null in polar day or night. Source: Meeus equation 15.1. */
export function halfDayArc(latitude: number, dec: number, horizon = 0): number | null {
  const cosine =
    (Math.sin(rad(horizon)) - Math.sin(rad(latitude)) * Math.sin(rad(dec))) /
    (Math.cos(rad(latitude)) * Math.cos(rad(dec)));
  return Math.abs(cosine) <= 1 ? deg(Math.acos(cosine)) : null;
}

/**
 * The sun's height as seen in a section through a wall; above 90 when it stands behind the wall.
 *
 * Source: Duffie & Beckman, Solar Engineering of Thermal Processes, 5th ed., equation 1.6.12.
 */
export function profileAngle(altitude: number, azimuth: number, wallAzimuth: number): number {
  const alt = rad(altitude);
  return deg(Math.atan2(Math.sin(alt), Math.cos(alt) * Math.cos(rad(azimuth - wallAzimuth))));
}

/** The profile angle of a sun that is up and before the wall, null otherwise. */
export function angleOnWall(sun: SunPosition, wallAzimuth: number): number | null {
  const facing = Math.cos(rad(sun.azimuth - wallAzimuth));
  if (sun.altitude <= 0 || facing <= 1e-6) return null;
  return profileAngle(sun.altitude, sun.azimuth, wallAzimuth);
}

/** The usual air pressure [Pa] at a height above the sea [m]. Source: ISO 2533:1975. */
export function standardPressure(altitude: number): number {
  return 101325 * (1 - 2.25577e-5 * altitude) ** 5.25588;
}

function refraction(trueAltitude: number, height: number): number {
  if (trueAltitude < REFRACTED_BELOW) return 0;
  const air = (standardPressure(height) / 101000) * (283 / (273 + TEMPERATURE_C));
  return (air * 1.02) / (60 * Math.tan(rad(trueAltitude + 10.3 / (trueAltitude + 5.11))));
}

function crossing(noon: number, side: -1 | 1, spot: Omit<Spot, "altitude">): number | null {
  let instant = noon;
  for (let turn = 0; turn < 4; turn++) {
    const arc = halfDayArc(spot.latitude, declination(instant), RISE_SET_ALTITUDE);
    if (arc === null) return null;
    instant += turned(side * arc - hourAngle(instant, spot.longitude)) * SECONDS_PER_DEGREE;
  }
  return instant;
}

/** The sun's hour angle, 0 at solar noon, positive in the afternoon. Source: Meeus chapter 13. */
function hourAngle(utc: number, longitude: number): number {
  const days = utc / DAY_S + 2440587.5 - 2451545;
  const sidereal = 280.46061837 + 360.98564736629 * days;
  const { rightAscension, nutation } = apparent(utc);
  return turned(sidereal + nutation + longitude - rightAscension);
}

/** The sun's apparent place; `nutation` is that of right ascension. Source: Meeus chapter 25. */
function apparent(utc: number): Apparent {
  const t = ((utc + DELTA_T_S) / DAY_S + 2440587.5 - 2451545) / 36525;
  const meanLongitude = 280.46646 + t * (36000.76983 + t * 0.0003032);
  const anomaly = rad(357.52911 + t * (35999.05029 - t * 0.0001537));
  const centre =
    (1.914602 - t * (0.004817 + t * 0.000014)) * Math.sin(anomaly) +
    (0.019993 - t * 0.000101) * Math.sin(2 * anomaly) +
    0.000289 * Math.sin(3 * anomaly);
  const node = rad(125.04 - 1934.136 * t);
  const longitude = rad(meanLongitude + centre - 0.00569 - 0.00478 * Math.sin(node));
  const obliquity = rad(
    23.4392911 - t * (0.0130042 + t * (1.64e-7 - t * 5.04e-7)) + 0.00256 * Math.cos(node),
  );
  const across = Math.cos(obliquity) * Math.sin(longitude);
  return {
    meanLongitude,
    rightAscension: deg(Math.atan2(across, Math.cos(longitude))),
    declination: deg(Math.asin(Math.sin(obliquity) * Math.sin(longitude))),
    nutation: -0.00478 * Math.sin(node) * Math.cos(obliquity),
  };
}

/** An angle between -180 and 180. */
function turned(angle: number): number {
  return ((((angle + 180) % 360) + 360) % 360) - 180;
}

function rad(degrees: number): number {
  return (degrees * Math.PI) / 180;
}

function deg(radians: number): number {
  return (radians * 180) / Math.PI;
}
