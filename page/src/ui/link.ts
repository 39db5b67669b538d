/** The line to the server: says edits, hears answers, finds its way back when it breaks. */
import { decodeFrame, type FrameArray } from "../wire/frame";
import type { Design, Refused, ServerMessage, Weather, Year } from "../wire/messages";
import * as store from "./store";

/** An answer with its hourly arrays: temperature and heat of each zone. */
export interface YearAnswer extends Year {
  temperature: Float64Array[];
  heat: Float64Array[];
}

interface Edit {
  seq: number;
  building: string;
  words: string[];
  hold: boolean;
}

const FIRST_WAIT = 300;
const LONGEST_WAIT = 3000;

let socket: WebSocket | null = null;
let wait = FIRST_WAIT;
/** The newest edit that nobody has answered yet; it is said again after a broken line. */
let open: Edit | null = null;

/** Connect, and stay connected. */
export function connect(): void {
  const address = new URL("desk", location.href);
  address.protocol = address.protocol === "https:" ? "wss:" : "ws:";
  address.hash = "";
  socket = new WebSocket(address);
  socket.binaryType = "arraybuffer";
  socket.onopen = () => {
    wait = FIRST_WAIT;
    store.connected.value = true;
    if (store.chosen.value) send({ type: "look", building: store.chosen.value });
    if (open) send({ type: "edit", ...open });
  };
  socket.onmessage = (event: MessageEvent<string | ArrayBuffer>) => hear(event.data);
  socket.onclose = () => {
    store.connected.value = false;
    socket = null;
    setTimeout(connect, wait);
    wait = Math.min(LONGEST_WAIT, wait * 1.6);
  };
}

function send(message: object): void {
  if (socket?.readyState === WebSocket.OPEN) socket.send(JSON.stringify(message));
}

/** Say an edit; `hold` while the hand has not let go. */
export function edit(words: string[], hold: boolean): number {
  const building = store.building.value?.name ?? "";
  const seq = store.said.value + 1;
  store.said.value = seq;
  open = { seq, building, words, hold };
  send({ type: "edit", ...open });
  return seq;
}

export const undo = (): void => send({ type: "undo" });
export const redo = (): void => send({ type: "redo" });

/** Show another building. */
export function look(building: string): void {
  store.chosen.value = building;
  store.cutAt.value = 0;
  store.zoneShown.value = 0;
  store.year.value = null;
  store.twin.value = null;
  send({ type: "look", building });
}

function hear(data: string | ArrayBuffer): void {
  if (typeof data === "string") {
    take(JSON.parse(data) as ServerMessage, []);
    return;
  }
  const { message, arrays } = decodeFrame(data);
  take(message as unknown as ServerMessage, arrays);
}

function take(message: ServerMessage, arrays: readonly FrameArray[]): void {
  if (message.type === "design") takeDesign(message);
  else if (message.type === "year") takeYear(message, arrays);
  else if (message.type === "weather") takeWeather(message, arrays);
  else if (message.type === "refused") takeRefusal(message);
  else if (message.type === "busy") store.warming.value = message.state === "warming";
  else if (message.building === store.building.value?.name) store.twin.value = message;
}

function takeDesign(message: Design): void {
  store.design.value = message;
  const settled = message.seq === null ? !store.waiting.value : message.seq === store.said.value;
  if (settled && !store.grasped.value) store.held.value = {};
  if (message.cause !== "edit") store.stopped.value = null;
  store.notice.value = message.cause === "outside" ? "page.changed_outside" : "";
}

function takeYear(message: Year, arrays: readonly FrameArray[]): void {
  if (message.building !== store.building.value?.name) return;
  if (message.seq !== null) close(message.seq);
  const of = (name: string): Float64Array[] =>
    arrays.filter((array) => array.name === name).map((array) => array.values);
  store.year.value = { ...message, temperature: of("temperature"), heat: of("heat") };
  store.warming.value = false;
}

function takeWeather(message: Weather, arrays: readonly FrameArray[]): void {
  const [outdoors, sun] = arrays;
  if (outdoors && sun) {
    store.weather.value = { message, outdoors: outdoors.values, sun: sun.values };
  }
}

function takeRefusal({ seq, problems }: Refused): void {
  store.stopped.value = problems[0] ?? null;
  if (seq === null) {
    store.year.value = null;
    store.twin.value = null;
    return;
  }
  if (seq === store.said.value && !store.grasped.value) store.held.value = {};
  close(seq);
}

/** Note that an edit was answered. */
function close(seq: number): void {
  store.answered.value = Math.max(store.answered.value, seq);
  if (open && open.seq <= seq) open = null;
}
