// The photos of one snapshot, and the one that was just taken and is not kept yet.
import type { PhotoSide } from "../../bindings/PhotoSide";
import type { PhotosView } from "../../bindings/PhotosView";
import type { Problem } from "../../bindings/Problem";
import type { SidePhoto } from "../../bindings/SidePhoto";
import { asProblem, type Ask } from "../backend/backend";

/** Steps of how strong the last snapshot's photo shows, in percent. */
const STEPS = [0, 20, 40, 60, 80];

export class PhotosState {
  view = $state.raw<PhotosView | null>(null);
  /** Pictures by the id of their photo, as images take them. */
  pictures = $state.raw<Record<string, string>>({});
  /** Photos whose picture is missing or damaged, in words. */
  lost = $state.raw<Record<string, string>>({});
  /** The side that is open. */
  open = $state<PhotoSide | null>(null);
  /** Base64 of a picture that was chosen and is not kept yet. */
  draft = $state.raw<string | null>(null);
  problem = $state.raw<Problem | null>(null);
  busy = $state(false);
  lines = $state(true);
  #strength = $state(2);

  constructor(
    readonly ask: Ask,
    readonly snapshot: string,
  ) {}

  get side(): SidePhoto | null {
    return this.view?.sides.find(({ side }) => side === this.open) ?? null;
  }

  /** In percent. */
  get strength(): number {
    return STEPS[this.#strength] ?? 0;
  }

  get canFade(): boolean {
    return this.#strength > 0;
  }

  get canStrengthen(): boolean {
    return this.#strength < STEPS.length - 1;
  }

  fade(by: -1 | 1): void {
    this.#strength = Math.min(STEPS.length - 1, Math.max(0, this.#strength + by));
  }

  async load(): Promise<void> {
    await this.#try(async () => this.#show(await this.ask("open_photos", { snapshot: this.snapshot })));
  }

  show(side: PhotoSide): void {
    this.open = side;
    this.draft = null;
    this.problem = null;
    // Over a photo that is kept the earlier one shows only when it is asked for.
    this.#strength = this.side?.photo ? 0 : 2;
  }

  close(): void {
    this.open = null;
    this.draft = null;
  }

  /** Looks at a chosen picture before it is kept. */
  async choose(file: Blob, small: (file: Blob) => Promise<string>): Promise<void> {
    await this.#try(async () => {
      this.draft = await small(file);
      this.#strength = this.side?.before ? 2 : 0;
    });
  }

  async keep(): Promise<boolean> {
    const { open: side, draft: data } = this;
    if (!side || data === null) return false;
    return this.#try(async () => {
      this.#show(await this.ask("add_photo", { snapshot: this.snapshot, side, data }));
      this.draft = null;
      this.#strength = 0;
    });
  }

  takeOff(photo: string): Promise<boolean> {
    return this.#try(async () => this.#show(await this.ask("take_off_photo", { photo })));
  }

  putBack(photo: string): Promise<boolean> {
    return this.#try(async () => this.#show(await this.ask("put_back_photo", { photo })));
  }

  #show(view: PhotosView): void {
    this.view = view;
    for (const { photo, before } of view.sides) {
      if (photo) void this.#picture(photo.photo);
      if (before) void this.#picture(before.photo);
    }
  }

  async #picture(photo: string): Promise<void> {
    if (this.pictures[photo]) return;
    try {
      const { data_url } = await this.ask("see_photo", { photo });
      this.pictures = { ...this.pictures, [photo]: data_url };
    } catch (thrown) {
      const { sentence, hint } = asProblem(thrown);
      this.lost = { ...this.lost, [photo]: `${sentence} ${hint}` };
    }
  }

  async #try(act: () => Promise<void>): Promise<boolean> {
    this.busy = true;
    this.problem = null;
    try {
      await act();
      return true;
    } catch (thrown) {
      this.problem = asProblem(thrown);
      return false;
    } finally {
      this.busy = false;
    }
  }
}
