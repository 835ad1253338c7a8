// Levelling a floor: one reading at each station, pass by pass; a station can be chosen, or a group read through.
import type { FloorView } from "../../bindings/FloorView";
import type { Levelling } from "../../bindings/Levelling";
import type { Problem } from "../../bindings/Problem";
import type { StationView } from "../../bindings/StationView";
import { asProblem, type Ask } from "../backend/backend";
import { requestId } from "../backend/request-id";

/** What a second asking takes all the same. */
const ASKED_TWICE = ["steep", "two_ways"];

/** What is half typed, and at which station; both empty where nothing is. */
export interface HalfTyped {
  place: string;
  text: string;
}

const placeOf = (station: StationView) => `${station.pass_no}/${station.point}/${station.reversed}`;

export class FloorState {
  view = $state.raw<FloorView>(null as unknown as FloorView);
  text = $state("");
  problem = $state.raw<Problem | null>(null);
  unsaved = $state.raw<Problem | null>(null);
  taking = $state(false);
  /** A station chosen by the person: read next, whatever else is open. */
  #chosen = $state.raw<{ point: string; reversed: boolean } | null>(null);
  /** A group of optional stations that is being read through. */
  #through = $state<string | null>(null);
  #ask: Ask;
  #request: { place: string; text: string; id: string } | null = null;
  #waiting: ((text: string) => string)[] = [];

  constructor(ask: Ask, view: FloorView) {
    this.#ask = ask;
    this.view = view;
  }

  /** The station to read now. */
  get station(): StationView | null {
    const all = this.view.groups.flatMap((group) => group.stations);
    const at = (place: { point: string; reversed: boolean } | null) =>
      place && all.find((station) => station.point === place.point && station.reversed === place.reversed);
    return at(this.#chosen) ?? at(this.view.next) ?? this.#open[0] ?? null;
  }

  /** What is left of the group that is being read through. */
  get #open(): StationView[] {
    const group = this.view.groups.find(({ group }) => group === this.#through);
    return group?.stations.filter((station) => station.text === null) ?? [];
  }

  /** True where the person may stop before the group is read. */
  get optional(): boolean {
    return this.view.next === null || this.#chosen !== null;
  }

  /** What comes after the present station. */
  get then(): string {
    if (this.#chosen) return "";
    if (this.view.next) return this.view.next.then;
    return this.#open[1] ? `next: ${this.#open[1].words}` : "last one";
  }

  /** Spots read in the pass now being read, or in the last one. */
  get pass() {
    const number = this.station?.pass_no ?? this.view.passes.at(-1)?.pass_no;
    return this.view.passes.find((pass) => pass.pass_no === number) ?? null;
  }

  get half(): HalfTyped {
    const { station, text } = this;
    return station && text !== "" ? { place: placeOf(station), text } : { place: "", text: "" };
  }

  /** Goes on with what was half typed when the floor was left. What has been taken since is not typed again. */
  resume({ place, text }: HalfTyped): void {
    const all = this.view.groups.flatMap((group) => group.stations);
    const there = all.find((station) => placeOf(station) === place);
    if (!there || there.text === text) return;
    if (this.station !== there) this.choose(there.point, there.reversed);
    this.text = text;
  }

  get canUndo(): boolean {
    return this.view.read;
  }

  edit(change: (text: string) => string): void {
    if (this.taking) {
      this.#waiting.push(change);
      return;
    }
    this.text = change(this.text);
    this.problem = null;
  }

  choose(point: string, reversed: boolean): void {
    this.#chosen = { point, reversed };
    this.#fresh();
  }

  readThrough(group: string): void {
    this.#through = group;
    this.#fresh();
  }

  /** Back to the floor's page. */
  stop(): void {
    this.#chosen = null;
    this.#through = null;
    this.#fresh();
  }

  /** Leaves the present station out, for now. */
  skip(): void {
    const after = this.#open[1];
    if (this.#through && !this.#chosen && after) this.choose(after.point, after.reversed);
    else this.stop();
  }

  async take(): Promise<boolean> {
    const { station } = this;
    if (this.taking || !station) return false;
    this.taking = true;
    const { text } = this;
    const place = placeOf(station);
    if (this.#request?.place !== place || this.#request.text !== text) this.#request = { place, text, id: requestId() };
    const about = { floor: this.view.floor, pass_no: station.pass_no, text, request_id: this.#request.id };
    try {
      this.view = station.line
        ? await this.#ask("take_straightedge", {
            ...about,
            line: station.line,
            reversed: station.reversed,
            insist: ASKED_TWICE.includes(this.problem?.code ?? ""),
          })
        : await this.#ask("take_floor_reading", { ...about, point: station.point, tape: this.view.tape });
      this.#request = null;
      this.#chosen = null;
      this.#fresh();
      return true;
    } catch (thrown) {
      this.#fail(asProblem(thrown));
      return false;
    } finally {
      this.taking = false;
      for (const change of this.#waiting.splice(0)) this.edit(change);
    }
  }

  undo(): Promise<void> {
    return this.#move(() => this.#ask("undo_floor_reading", { floor: this.view.floor }));
  }

  putBack(): Promise<void> {
    return this.#move(() => this.#ask("put_back_floor_reading", { floor: this.view.floor }));
  }

  addPass(levelling: Levelling | null = null): Promise<void> {
    this.stop();
    return this.#move(() => this.#ask("add_pass", { floor: this.view.floor, levelling }));
  }

  strike(reading: string, reason: string): Promise<void> {
    return this.#move(() => this.#ask("strike_floor_reading", { floor: this.view.floor, reading, reason }));
  }

  async #move(ask: () => Promise<FloorView>): Promise<void> {
    try {
      this.view = await ask();
      this.#fresh();
    } catch (thrown) {
      this.#fail(asProblem(thrown));
    }
  }

  #fresh(): void {
    this.problem = null;
    this.unsaved = null;
    this.text = "";
  }

  #fail(problem: Problem): void {
    if (problem.fields && problem.fields.length > 0) this.problem = problem;
    else this.unsaved = problem;
  }
}
