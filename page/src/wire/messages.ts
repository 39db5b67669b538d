/** What page and server say to each other; the contract is docs/wire.md. SI units throughout. */

export type System = "us" | "metric";

/** A number that knows what it measures, in SI: m, m2, J, W, degC, W/m2K, degrees ... */
export interface Quantity {
  value: number;
  kind: Kind;
}

export type Kind =
  | "length"
  | "area"
  | "volume"
  | "mass"
  | "temperature"
  | "temperature_difference"
  | "thermal_resistance"
  | "u_value"
  | "conductivity"
  | "power"
  | "power_density"
  | "energy"
  | "angle"
  | "pitch"
  | "air_change_rate"
  | "airflow"
  | "speed"
  | "pressure"
  | "density"
  | "specific_heat"
  | "ratio"
  | "count";

/** A day, as in `2022-12-21`. */
export interface DateValue {
  date: string;
}

export type Value = string | number | null | Quantity | DateValue | readonly Value[];
export type Values = Readonly<Record<string, Value>>;

/** A sentence as a key with its values; `words/speech` puts it into words. */
export interface Sentence {
  key: string;
  values: Values;
}

/** One thing wrong with what was handed in, and where. */
export interface Problem {
  code: string;
  path?: string;
  file?: string;
  line?: number | null;
  values: Values;
}

export interface Gutter {
  width: number;
  depth: number;
  drop: number;
}

/** The roof triangle [m], pitch rise over run; see `geometry/roof`. */
export interface Roof {
  span: number;
  pitch: number;
  projection: number;
  heel: number;
  plate: number;
  chord_depth: number;
  truss: "tail" | "cantilever";
  bearing: number;
  sloped: boolean;
  fascia_drop: number;
  gutter: Gutter | null;
}

/** A window entry of the sunny wall [m]; `lefts` from the left end, seen from outdoors. */
export interface Window {
  number: number;
  name: string;
  side: string;
  azimuth: number;
  zone: string;
  sill: number;
  head: number;
  width: number;
  count: number;
  lefts: number[];
  ceiling: number;
  room_depth: number;
  frames: [width: number, height: number];
}

/** Where a value stands in the file and how far it may go; one without path follows another. */
export interface Handle {
  path: string | null;
  value: number;
  kind: Kind;
  least: number;
  most: number;
  locked: Sentence | null;
}

export type HandleName = "projection" | "soffit" | "heel" | "pitch" | "wall" | "floor" | "attic";
export type WindowHandleName = "head" | "sill" | "width" | "ceiling";

export interface Building {
  name: string;
  kind: string;
  faces: number;
  wall_length: number;
  wall_height: number;
  ends: number;
  roof: Roof;
  keeps: "soffit" | "heel" | "end_heel" | "chord";
  wall_thickness: number;
  floor_thickness: number;
  floor_insulation: number;
  ceiling_insulation: number;
  ground: number;
  header_depth: number;
  windows: Window[];
  shown: number;
  handles: Record<HandleName, Handle>;
  window_limits: Record<WindowHandleName, [number, number]>;
  zones: string[];
}

export interface Place {
  name: string;
  latitude: number;
  longitude: number;
  altitude: number;
  time_zone: string;
  utc_offset: number;
}

/** Why the file stands as it does. */
export type Cause = "start" | "edit" | "undo" | "redo" | "outside";

export interface Design {
  type: "design";
  revision: number;
  seq: number | null;
  name: string;
  path: string;
  title: string;
  units: System;
  languages: string[];
  undo: number;
  redo: number;
  cause: Cause;
  unwritten: Problem | null;
  problems: Problem[];
  text: string | null;
  place: Place | null;
  buildings: Building[];
  cautions: Sentence[];
  truss: Record<string, Sentence[]>;
}

export interface MonthYear {
  month: number;
  heating_kwh: number;
  cooling_kwh: number;
  solar_kwh: number;
  temp_mean_c: number;
  outdoor_mean_c: number;
}

export interface PartFlow {
  part: string;
  side: string;
  kwh: number;
}

export interface ZoneYear {
  name: string;
  floor_area_m2: number;
  lived_in: boolean;
  heating_kwh: number;
  cooling_kwh: number;
  peak_heating_w: number;
  peak_cooling_w: number;
  temp_min_c: number;
  temp_max_c: number;
  hours_above_26_c: number;
  hours_below_18_c: number;
  humidity_winter_mean: number;
  heated_floor_max_c: number | null;
  months: MonthYear[];
  losses: PartFlow[];
  gains: PartFlow[];
}

export interface CoverYear {
  cover: string;
  window: string;
  side: string;
  hours_closed: number;
}

export interface FuelYear {
  fuel: string;
  unit: string;
  basis: string;
  amount: number;
  delivered_kwh: number;
  charges: number;
  full_cords: number;
}

/** One building through the year; units in the names, meanings in docs/result-tree.md. */
export interface BuildingYear {
  name: string;
  kind: string;
  faces_deg: number;
  floor_area_m2: number;
  glass_by_side_m2: Record<string, number>;
  heating_kwh: number;
  cooling_kwh: number;
  peak_heating_w: number;
  peak_cooling_w: number;
  temp_min_c: number;
  temp_max_c: number;
  hours_above_26_c: number;
  fuel: FuelYear | null;
  zones: ZoneYear[];
  covers: CoverYear[];
  closure_error: number;
  missed_goals: Sentence[];
}

export interface ClimateUsed {
  source: string;
  trust: string;
  latitude: number;
  longitude: number;
  altitude_m: number;
  radiation_closure: number;
  repaired_values: number;
}

/** The bright days of the cold season and their warmest hour. */
export interface BrightDay {
  peak_c: number;
  zone: string;
  month: number;
  day: number;
  hour: number;
  outdoor_min_c: number;
  outdoor_max_c: number;
  days: number;
}

/** The dawn after the coldest night, without heat from the sunset before. */
export interface ColdDawn {
  temp_c: number;
  zone: string;
  month: number;
  day: number;
  hour: number;
  outdoor_c: number;
  sunset_c: number;
}

/** Where an array lies among a frame's numbers; value = number times `scale`. */
export interface ArrayHead {
  name: string;
  zone?: string;
  scale: number;
  start: number;
  count: number;
}

interface Reckoned {
  revision: number;
  building: string;
  year: BuildingYear;
  bright: BrightDay | null;
  dawn: ColdDawn | null;
}

/** The answer to an edit, or to the file itself (`seq` null); its arrays come in a frame. */
export interface Year extends Reckoned {
  type: "year";
  seq: number | null;
  hold: boolean;
  ms: number;
  arrays: ArrayHead[];
}

/** The unshaped twin's year, once the hand has let go. */
export interface Twin extends Reckoned {
  type: "twin";
}

/** The weather: hours of standard time, null where the sun does neither; arrays in a frame. */
export interface Weather {
  type: "weather";
  climate: ClimateUsed;
  cautions: Sentence[];
  sunrise: (number | null)[];
  sunset: (number | null)[];
  noon: (number | null)[];
  arrays: ArrayHead[];
}

/** The edit can not be; nothing was changed. */
export interface Refused {
  type: "refused";
  seq: number | null;
  hold: boolean;
  problems: Problem[];
}

/** Whether the solver is ready. */
export interface Busy {
  type: "busy";
  state: "warming" | "ready";
}

export type ServerMessage = Design | Year | Twin | Weather | Refused | Busy;

/** Messages that come as frames. */
export type FrameMessage = Year | Weather;
