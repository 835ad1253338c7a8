// What the whole window knows: the garage, the present car, where the person is, and what went wrong.
import type { CarView } from "../../bindings/CarView";
import type { GarageView } from "../../bindings/GarageView";
import type { Problem } from "../../bindings/Problem";
import type { Settings } from "../../bindings/Settings";
import type { StanceRef } from "../../bindings/StanceRef";
import { asProblem, type Ask } from "../backend/backend";
import type { SafetyStep } from "../words/safety";
import { LocalVoice, windowSpeech, type Voice } from "../voice";
import { KeptForms } from "./kept-forms";
import { PhotosState } from "./photos.svelte";
import { recovered, type Place } from "./place";
import type { Screen } from "./screen";
import { SettlingState } from "./settling.svelte";

/** Where the person is, among the kept forms. */
const PLACE = "place";

export class AppState {
  garage = $state.raw<GarageView | null>(null);
  car = $state.raw<CarView | null>(null);
  screen = $state.raw<Screen>({ at: "loading" });
  /** A problem that belongs to no field. */
  problem = $state.raw<Problem | null>(null);
  /** Read aloud by a screen reader; changes when something happened that is not where the focus is. */
  announcement = $state("");
  menuOpen = $state(false);
  /** Pictures shown as their text twins. */
  asText = $state(false);
  /** Safety at the step, asked once each time the app is opened. */
  safety = $state.raw<ReadonlySet<SafetyStep | "laser">>(new Set());
  /** Bounces of a snapshot that were said to be done, by snapshot and number, since the app was opened. */
  bounced = $state.raw<readonly string[]>([]);
  /** After a start in the middle of something: what was recovered. */
  recovered = $state<string | null>(null);
  /** Forms half filled in, kept while the person looks elsewhere: nothing typed is lost. */
  readonly forms: KeptForms;
  #photos: PhotosState | null = null;
  #settling: SettlingState | null = null;
  #before: Screen[] = [];
  /** How many ways the person has set out on. */
  #ways = 0;

  constructor(
    readonly ask: Ask,
    /** Says an accepted reading aloud. */
    readonly voice: Voice = new LocalVoice(windowSpeech()),
  ) {
    this.forms = new KeptForms(ask, (thrown) => this.tell(asProblem(thrown)));
  }

  get settings(): Settings {
    return this.garage?.settings ?? { tape: "in", display: "mm", theme: "system", left_hand: false, read_back: false };
  }

  /** The photos of a snapshot; the same ones, with what was just taken, when the window takes another shape. */
  photosOf(snapshot: string): PhotosState {
    if (this.#photos?.snapshot !== snapshot) this.#photos = new PhotosState(this.ask, snapshot);
    return this.#photos;
  }

  /** The Settling tab of a car; with what it last showed and what was chosen there, so that coming back to it waits for nothing. */
  settlingOf(car: string): SettlingState {
    if (this.#settling?.car !== car) this.#settling = new SettlingState(this.ask, car);
    return this.#settling;
  }

  /** Opens the app where it was left: what was half done first, an unfinished snapshot next, then a single car, else the garage. */
  async open(): Promise<void> {
    const garage = await this.#try(() => this.ask("open_garage", {}));
    if (!garage) return;
    this.problem = null;
    this.garage = garage;
    await this.#try(() => this.forms.open());
    const place = this.forms.of<Place | null>(PLACE, () => null);
    if (place && (await this.#reopen(place, garage))) return;
    const [last] = garage.cars;
    if (last && (last.unfinished !== null || garage.cars.length === 1)) {
      await this.openCar(last.car, last.unfinished === null ? { at: "car" } : { at: "readings" });
      return;
    }
    this.go({ at: "garage" });
  }

  /** Back to where something was half done; false where that is no more. */
  async #reopen({ car, screen }: Place, garage: GarageView): Promise<boolean> {
    const row = garage.cars.find((of) => of.car === car);
    const words = recovered(screen);
    if (words === null || (car !== null && !row) || (screen.at === "begin" && row?.unfinished !== null)) return false;
    if (row) await this.openCar(row.car, { at: row.unfinished === null ? "car" : "readings" });
    else this.go({ at: "garage" });
    if (row && this.car?.car !== row.car) return false;
    this.go(screen);
    this.recovered = words;
    this.announce(`Nothing was lost. ${words}`);
    return true;
  }

  async openSamples(): Promise<void> {
    const garage = await this.#try(() => this.ask("open_sample_garage", {}));
    if (!garage) return;
    this.garage = garage;
    this.car = null;
    this.go({ at: "garage" });
    this.announce(`${garage.cars.length} cars in the garage.`);
  }

  /** Reads the garage anew and shows it. */
  async openGarage(): Promise<void> {
    const mine = this.#setOut();
    const garage = await this.#try(() => this.ask("open_garage", {}));
    if (!garage) return;
    this.garage = garage;
    if (mine()) this.go({ at: "garage" });
  }

  async openCar(car: string, then: Screen = { at: "car" }): Promise<void> {
    const mine = this.#setOut();
    const view = await this.#try(() => this.ask("open_car", { car }));
    if (!view || !mine()) return;
    this.car = view;
    this.go(then);
  }

  /** Goes to a screen once something is done, unless the person chose another way meanwhile. */
  async goAfter(first: () => Promise<unknown>, screen: Screen): Promise<void> {
    const mine = this.#setOut();
    await first();
    if (mine()) this.go(screen);
  }

  /** A way is begun: says later whether it is still the one the person chose last. */
  #setOut(): () => boolean {
    const mine = ++this.#ways;
    return () => mine === this.#ways;
  }

  /** Lets the present car stand on another car's floor; true once it may. */
  async useFloor(floor: string): Promise<boolean> {
    const car = this.car;
    const view = car && (await this.#try(() => this.ask("use_floor", { car: car.car, floor })));
    if (view) this.car = view;
    return !!view;
  }

  /** The present car again after something of it changed, without going anywhere. */
  async refreshCar(): Promise<void> {
    const car = this.car;
    if (!car) return;
    const view = await this.#try(() => this.ask("open_car", { car: car.car }));
    if (view && this.car?.car === view.car) this.car = view;
  }

  async change(settings: Partial<Settings>): Promise<void> {
    const garage = await this.#try(() => this.ask("set_settings", { ...this.settings, ...settings }));
    if (garage) this.garage = garage;
  }

  async importFile(name: string, text: string): Promise<void> {
    const garage = await this.#try(() => this.ask("import_file", { name, text }));
    if (!garage) return;
    this.garage = garage;
    this.announce(`${name} is in the garage.`);
    const [first] = garage.cars;
    if (first && garage.cars.length === 1) await this.openCar(first.car);
    else this.go({ at: "garage" });
  }

  go(screen: Screen): void {
    if (this.screen.at !== "loading") this.#before.push(this.screen);
    this.goOn(screen);
  }

  /** Goes on from a form that is done with: back does not return to it. */
  goOn(screen: Screen): void {
    this.#show(screen);
    this.menuOpen = false;
  }

  /** The page that is shown stands on another stance; it is still the same page for the way back. */
  stand(stance: StanceRef | null): void {
    this.screen = { ...this.screen, stance } as Screen;
  }

  /** To the screen before; false where there is none. */
  back(): boolean {
    const screen = this.#before.pop();
    if (!screen) return false;
    this.#show(screen);
    return true;
  }

  /** Back from a form to the page it belongs to, also after a restart in the middle of it, when another screen lies before it. */
  backTo(screen: Screen): void {
    if (this.#before.at(-1)?.at === screen.at) this.back();
    else this.goOn(screen);
  }

  #show(screen: Screen): void {
    this.#ways += 1;
    this.screen = screen;
    this.problem = null;
    this.recovered = null;
    if (recovered(screen) === null) this.forms.done(PLACE);
    else this.forms.keep(PLACE, { car: this.car?.car ?? null, screen });
  }

  /** The person said what a safety screen asked: it is not asked again while the app is open. */
  isSafe(step: SafetyStep | "laser"): void {
    this.safety = new Set([...this.safety, step]);
  }

  /** Says it aloud, if that is wanted. */
  sayAloud(words: string): void {
    if (this.settings.read_back) this.voice.say(words);
  }

  announce(words: string): void {
    this.announcement = words;
  }

  /** Shows a problem that belongs to no field of the present screen. */
  tell(problem: Problem): void {
    this.problem = problem;
    this.announce(`${problem.sentence} ${problem.hint}`);
  }

  async #try<T>(ask: () => Promise<T>): Promise<T | null> {
    try {
      return await ask();
    } catch (thrown) {
      this.tell(asProblem(thrown));
      return null;
    }
  }
}
