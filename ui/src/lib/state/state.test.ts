// Opening where it was left, forms that lose nothing, and problems that arrive as problems.
import { describe, expect, it } from "vitest";
import { carView, EMPTY, FLOOR, GARAGE, ROADSTER } from "../../../tests/fixtures/views";
import { backend, type Carrier } from "../backend/backend";
import { AppState } from "./app.svelte";
import { emptyCar, emptyPoints } from "./car-form";
import { conditionCells } from "./cells";
import { FloorState } from "./floor.svelte";
import { FormProblems } from "./form.svelte";
import { helps } from "./next-step";

const answering =
  (answers: Record<string, unknown>): Carrier =>
  async (verb) => {
    if (!(verb in answers)) throw { code: "refused", sentence: `No ${verb} today.`, hint: "Try tomorrow." };
    return answers[verb];
  };

describe("opening", () => {
  const open = async (garage: unknown) => {
    const app = new AppState(
      backend(answering({ open_garage: garage, kept_forms: { forms: {} }, open_car: carView(ROADSTER) })),
    );
    await app.open();
    return app;
  };

  it("goes on with an unfinished snapshot of the car last used", async () => {
    expect((await open(GARAGE)).screen).toEqual({ at: "readings" });
  });

  it("shows the only car, else the garage", async () => {
    const [, roadster, coupe] = GARAGE.cars;
    expect((await open({ ...GARAGE, cars: [roadster] })).screen).toEqual({ at: "car" });
    expect((await open({ ...GARAGE, cars: [roadster, coupe] })).screen).toEqual({ at: "garage" });
    expect((await open(EMPTY)).screen).toEqual({ at: "garage" });
  });

  it("goes on where something was half done, on the car it was done to, and says so", async () => {
    const [pickup, roadster] = GARAGE.cars;
    const place = (car: string | undefined, screen: object) => ({
      place: JSON.stringify({ car: car ?? null, screen }),
    });
    const reopened = async (forms: Record<string, string>) => {
      const answers = { open_garage: GARAGE, kept_forms: { forms }, keep_form: null, open_car: carView(ROADSTER) };
      const app = new AppState(backend(answering(answers)));
      await app.open();
      return app;
    };
    const floor = { at: "floor", floor: "f" };
    const app = await reopened(place(roadster?.car, floor));
    expect(app.screen).toEqual(floor);
    expect(app.car?.car).toBe("r");
    expect(app.announcement).toBe("Nothing was lost. Go on where you were.");
    expect(app.back()).toBe(true);
    expect([app.screen, app.recovered]).toEqual([{ at: "car" }, null]);

    expect((await reopened(place("gone", floor))).screen).toEqual({ at: "readings" });
    // One snapshot is unfinished already: a second cannot be begun.
    const begin = { at: "begin", turned: false };
    expect((await reopened(place(pickup?.car, begin))).screen).toEqual({ at: "readings" });
    const form = { at: "car_form", change: false };
    const fresh = await reopened(place(undefined, form));
    expect([fresh.screen, fresh.car]).toEqual([form, null]);
  });

  it("says in words what the store refused", async () => {
    const app = new AppState(backend(answering({})));
    await app.open();
    expect(app.problem).toMatchObject({ sentence: "No open_garage today.", hint: "Try tomorrow." });
    expect(app.announcement).toContain("No open_garage today.");
  });
});

describe("going and coming back", () => {
  it("keeps forms that are half filled in", async () => {
    const app = new AppState(backend(answering({ open_garage: EMPTY, kept_forms: { forms: {} }, keep_form: null })));
    await app.open();
    app.go({ at: "car_form", change: false });
    app.forms.keep("car new", { label: "Half" });
    expect(app.back()).toBe(true);
    expect(app.screen).toEqual({ at: "garage" });
    expect(app.forms.of("car new", () => ({ label: "" }))).toEqual({ label: "Half" });
    expect(app.back()).toBe(false);
  });
});

describe("a problem", () => {
  it("from outside the app's own words becomes one", async () => {
    const ask = backend(() => Promise.reject(new Error("the pipe is gone")));
    await expect(ask("open_garage", {})).rejects.toMatchObject({
      code: "no_answer",
      sentence: expect.stringContaining("the pipe is gone"),
    });
  });

  it("stands beside its field until the field is changed", async () => {
    const problems = new FormProblems();
    const fields = [
      { field: "wheelbase", typed: "x", sentence: "x is no length.", hint: "Type 101 or 101 3/16." },
      { field: "tires.FL.marking", typed: "?", sentence: "? is no marking.", hint: "" },
    ];
    const reply = await problems.send(() =>
      Promise.reject({ code: "field_unreadable", sentence: "Two fields.", hint: "", fields }),
    );
    expect(reply).toBeNull();
    expect(problems.spoken).toBe("2 fields cannot be read. x is no length.");
    problems.changed("wheelbase");
    expect(problems.of("wheelbase")).toBeNull();
    expect(problems.of("tires.FL.marking")?.sentence).toBe("? is no marking.");
    expect(await problems.send(() => Promise.resolve("taken"))).toBe("taken");
    expect(problems.fields).toEqual([]);
  });
});

describe("a floor", () => {
  it("keeps a reading that could not be saved and empties the line once it was", async () => {
    let works = false;
    const asked: { request_id: string }[] = [];
    const ask = backend(async (_verb, request) => {
      asked.push(request as { request_id: string });
      if (!works) throw { code: "disk_full", sentence: "The disk is full.", hint: "" };
      return { ...FLOOR, next: null };
    });
    const state = new FloorState(ask, FLOOR);
    state.edit(() => "865");
    expect(await state.take()).toBe(false);
    expect([state.text, state.unsaved?.code]).toEqual(["865", "disk_full"]);
    works = true;
    expect(await state.take()).toBe(true);
    expect(state.text).toBe("");
    expect(asked[1]?.request_id).toBe(asked[0]?.request_id);
  });
});

describe("undo on a floor", () => {
  it("takes back and puts back, each as the store says", async () => {
    const taken_back = { pass_no: 2, point: "S3", words: "spot 3 of pass 2, 863" };
    const asked: [string, unknown][] = [];
    const ask = backend(async (verb, request) => {
      asked.push([verb, request]);
      return verb === "undo_floor_reading" ? { ...FLOOR, taken_back } : FLOOR;
    });
    const state = new FloorState(ask, FLOOR);
    await state.undo();
    expect(state.view.taken_back?.words).toBe("spot 3 of pass 2, 863");
    await state.putBack();
    expect(state.view.taken_back).toBeNull();
    expect(asked).toEqual([
      ["undo_floor_reading", { floor: "f" }],
      ["put_back_floor_reading", { floor: "f" }],
    ]);
  });
});

describe("small words", () => {
  it("a new car starts with one kind of point, and a lip stands over its axle", () => {
    expect(emptyCar("in").points).toHaveLength(1);
    expect(emptyPoints("fender_lip")).toMatchObject({ front_behind_axle: "0", rear_ahead_of_axle: "0" });
    expect(emptyPoints("frame_rail").front_behind_axle).toBe("");
  });

  it("the year goes where the line is full", () => {
    const words = (floor: string, room: "narrow" | "phone" | "wide") =>
      conditionCells({ date: "2031-08-28", floor, load: "half tank, empty" }, room).map((cell) => cell.words);
    expect(words("yard, levelled", "phone")).toEqual(["28 Aug 2031", "Yard, levelled", "Half tank, empty"]);
    expect(words("yard, levelled", "narrow")[0]).toBe("28 Aug");
    expect(words("the long drive at home, levelled", "phone")[0]).toBe("28 Aug");
    expect(words("the long drive at home, levelled", "wide")[0]).toBe("28 Aug 2031");
  });

  it("a reading helps where what is printed changes", () => {
    const gain = (text: string) => helps({ what: "", words: "", for: "", gain: text });
    expect(["±5 becomes ±3", "then it can be told, ±4"].every(gain)).toBe(true);
    expect(["stays ±3", "no help"].some(gain)).toBe(false);
  });
});
