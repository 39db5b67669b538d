/** The line to the server: says edits, hears answers, finds its way back when it breaks. */
import { decodeFrame } from "../wire/frame";
import type { ServerMessage, YearMessage } from "../wire/messages";
import * as store from "./store";

/** An answer with its hourly arrays: temperature and heat of each zone. */
export interface YearAnswer extends YearMessage {
  temperature: Float32Array[];
  heat: Float32Array[];
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
  if (typeof data === "string") return take(JSON.parse(data) as ServerMessage, []);
  const { message, arrays } = decodeFrame(data);
  take(message as ServerMessage, arrays);
}

function take(message: ServerMessage, arrays: Float32Array[]): void {
  switch (message.type) {
    case "design":
      if (store.design.value === null) store.system.value = message.units;
      store.design.value = message;
      if (message.seq !== null && message.seq === store.said.value) store.held.value = {};
      if (message.seq === null && !store.waiting.value) store.held.value = {};
      if (message.cause === "outside") store.notice.value = "page.changed_outside";
      if (message.cause === "edit") store.notice.value = "";
      return;
    case "year": {
      if (message.building !== store.building.value?.name) return;
      if (message.seq !== null) close(message.seq);
      const of = (name: string): Float32Array[] =>
        arrays.filter((_, i) => message.arrays[i]?.name === name);
      store.year.value = { ...message, temperature: of("temperature"), heat: of("heat") };
      store.warming.value = false;
      return;
    }
    case "twin":
      if (message.building === store.building.value?.name) store.twin.value = message;
      return;
    case "weather": {
      const [outdoors, sun] = arrays;
      if (outdoors && sun) store.weather.value = { message, outdoors, sun };
      return;
    }
    case "refused":
      store.stopped.value = message.problems[0] ?? null;
      if (message.seq !== null) {
        if (message.seq === store.said.value) store.held.value = {};
        close(message.seq);
      }
      return;
    case "busy":
      store.warming.value = message.state === "warming";
  }
}

/** Note that an edit was answered. */
function close(seq: number): void {
  store.answered.value = Math.max(store.answered.value, seq);
  if (open && open.seq <= seq) open = null;
}
