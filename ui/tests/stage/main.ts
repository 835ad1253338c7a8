// A stage for looking at screens in a plain browser: `#scene` picks what the backend answers. Never part of the build.
import { mount } from "svelte";
import "../../src/app.css";
import App from "../../src/App.svelte";
import { backend, type Carrier } from "../../src/lib/backend/backend";
import type { CarForm } from "../../src/bindings/CarForm";
import BENCH from "../fixtures/bench.json";
import * as checking from "../fixtures/checks";
import * as comparing from "../fixtures/compare";
import FITMENT from "../fixtures/fitment.json";
import { HISTORY, NO_HISTORY } from "../fixtures/history";
import { drawn, PHOTOS } from "../fixtures/photos";
import PARTS from "../fixtures/mechanisms.json";
import PLAN from "../fixtures/plan.json";
import RAMP from "../fixtures/ramp.json";
import { PLANNED, standing } from "../fixtures/stances";
import SETTLING from "../fixtures/settling.json";
import TARGETS from "../fixtures/targets.json";
import * as views from "../fixtures/views";

const [scene = "", theme = "day", display = "mm", hand = "right", ...touched] = location.hash.slice(1).split("/");
const settings = { ...views.SETTINGS, theme, display, left_hand: hand === "left" } as typeof views.SETTINGS;
const RAIL = { stem: "rail", words: "frame rail, painted mark", s: 330 };
const HUB = { stem: "hub", words: "wheel centre", s: 0 };
const LIP = { stem: "lip", words: "fender lip, straight above the wheel centre", s: 0 };

const WALKS: Record<string, ReturnType<typeof views.walkView>> = {
  inch: views.walkView(views.ROADSTER, "in", [RAIL, HUB, RAIL], 3, 16, { draft: "10 7/16" }),
  inch32: views.walkView(views.ROADSTER, "in32", [RAIL, HUB, RAIL], 3, 16, { draft: "10 15/32" }),
  cm: views.walkView(views.COUPE, "cm", [LIP, HUB], 2, 14, { draft: "56.3" }),
  mm: views.walkView(views.COUPE, "mm", [LIP, HUB], 2, 14, { draft: "563" }),
  turned: views.walkView(views.PICKUP, "in", [LIP, RAIL], 2, 3, { facing: "B", draft: "27 " }),
  differs: views.walkView(views.ROADSTER, "in", [RAIL, HUB], 3, 13, {
    draft: "",
    differs: {
      step: 12,
      from: "repeats",
      sentence: "These two differ by 11 mm.",
      hint: "Rear right, frame rail. Read it once more?",
      values: [325.4, 336.5],
      printed: ["12 13/16", "13 1/4"],
      labels: ["round 1", "round 2"],
      rounds: [1, 2],
    },
  }),
  slip: views.walkView(views.COUPE, "mm", [LIP], 2, 2, {
    draft: "",
    differs: {
      step: 1,
      from: "last_snapshot",
      sentence: "An inch more than on 12 July 2031. Read it once more?",
      hint: "FR reads an inch more than on 12 July 2031: 605, 579. Read it again.",
      values: [579, 605],
      printed: ["579", "605"],
      labels: ["12 July 2031", "now"],
      rounds: [null, 1],
    },
  }),
  note: views.walkView(views.COUPE, "mm", [LIP], 2, 2, {
    draft: "",
    note: "Front, left and right read about 51 mm less than on 12 July 2031: a change, no slip.",
  }),
  lip: views.walkView(
    views.COUPE,
    "mm",
    [LIP, { stem: "hub_to", words: "wheel centre up to the lip", s: 0 }],
    2,
    3,
    {},
  ),
  back: (() => {
    const walk = views.walkView(views.PICKUP, "in", [LIP, RAIL], 2, 3, {
      facing: "B",
      order: { start: "RR", clockwise: false },
      corners: ["RR", "FR", "FL", "RL"],
      wheel_on_spot: { FL: "S4", FR: "S3", RL: "S2", RR: "S1" },
      skipped: 1,
    });
    const [first] = walk.steps;
    if (first) Object.assign(first, { text: null, printed: null, skipped: true });
    return walk;
  })(),
  book: views.walkView(views.COUPE, "mm", [LIP, HUB], 2, 12, {
    struck: [
      {
        reading: "s",
        step: 2,
        words: "front right lip",
        printed: "579",
        reason: "wrong edge",
        at: "14:24",
        can_unstrike: true,
      },
    ],
    taken_back: { step: 12, words: "rear right lip, 574" },
    draft: "57",
  }),
  sheet: (() => {
    const walk = views.walkView(views.ROADSTER, "in", [RAIL, LIP, HUB], 2, 14);
    const more = walk.steps.map((step) => ({ ...step, bounce: 2, text: null, printed: null, value: null }));
    walk.steps.push(...more);
    const row = (at: number) => ({
      number: at + 1,
      corner: walk.steps[at]?.corner ?? ("FL" as const),
      words: walk.steps[at]?.words ?? "",
      steps: [at, at + 12, at + 24, at + 36],
    });
    return {
      ...walk,
      bounces: 2,
      sheet: { read_at: "12 Apr 2031, 09:30", rows: Array.from({ length: 12 }, (_, at) => row(at)) },
    };
  })(),
  gauge: (() => {
    const walk = views.walkView(views.PICKUP, "in", [LIP], 1, 4, { draft: "2.69" });
    walk.steps.push(
      ...[false, true].map((reversed) => ({
        kind: "gauge" as const,
        corner: "FL" as const,
        ref: "frame_rail_left",
        words: "left frame rail",
        plain: "angle gauge",
        short: "gauge",
        bounce: 1,
        round: 1,
        reversed,
        s_mm: 330,
        text: null,
        printed: null,
        value: null,
        skipped: false,
        place: "left rail gauge, bounce 1",
        then: "next: turned end for end",
      })),
    );
    return walk;
  })(),
};

const NOTHING_MEASURED =
  "No gap is measured yet. Begin with one wheel: a tape, a stack of feelers or a ball of clay in each gap.";

const COMPARED: Record<string, ReturnType<typeof comparing.compareView>> = {
  compare: comparing.compareView(comparing.AGAINST_TARGET),
  "compare-since": comparing.compareView(comparing.SINCE),
  "compare-unknown": comparing.compareView(comparing.CANNOT_TELL),
  "compare-settled": comparing.compareView(comparing.SETTLED),
  "compare-empty": comparing.compareView(null),
};

const side =
  scene.startsWith("pickup") || scene.startsWith("result")
    ? views.PICKUP
    : scene.startsWith("coupe")
      ? views.COUPE
      : scene.startsWith("sedan")
        ? views.SIDES.sedan
        : scene.startsWith("frame")
          ? views.SIDES.bare_frame
          : views.ROADSTER;
const AT_WALK = ["chocks", "bounce", "condition"];
WALKS["sheet-slips"] = WALKS["sheet"] ?? views.walkView(side, "in", [RAIL], 1, 0);
const walking = Object.keys(WALKS).includes(scene) || AT_WALK.includes(scene);

const carry: Carrier = async (verb, request) => {
  switch (verb) {
    case "open_garage":
    case "set_settings":
      if (scene === "first") return { ...views.EMPTY, settings };
      if (scene === "garage") return { ...views.GARAGE, settings, cars: views.GARAGE.cars.toReversed() };
      return { ...views.GARAGE, settings, cars: [{ ...views.GARAGE.cars[1], unfinished: walking ? "w" : null }] };
    case "open_sample_garage":
      return { ...views.GARAGE, settings };
    case "open_car":
      return views.carView(side, walking ? "w" : null);
    case "see_result":
      if (scene.startsWith("result")) return views.resultView(scene !== "result-unknown");
      return {
        ...views.resultView(true, true),
        side,
        kind: "frame_rail",
        kind_words: "Frame rails",
        corners: Object.fromEntries(
          Object.entries(views.carView(side).corners ?? {}).map(([corner, level_mm]) => [
            corner,
            { point: `rail.${corner}`, level_mm, nominal_mm: null, tape_mm: null, tape_printed: null },
          ]),
        ),
        line: { ...views.resultView(true).line, rake_deg: views.measured(2.02, 0.06) },
      };
    case "see_settling":
      return SETTLING[scene.replace("settling-", "") as keyof typeof SETTLING] ?? SETTLING.settled;
    case "see_gearing":
      return (request as { miles: boolean }).miles ? PARTS["gearing-mph"] : PARTS.gearing;
    case "see_steering":
      return {
        ...((request as { stance: unknown }).stance ? PARTS["steering-target"] : PARTS.steering),
        ...standing(request),
      };
    case "see_driveline":
      return { ...PARTS.driveline, ...standing(request) };
    case "see_spring":
      return { ...((request as { rear: boolean }).rear ? PARTS["spring-empty"] : PARTS.spring), ...standing(request) };
    case "see_bench_sums":
      if (scene === "bench-none") return BENCH.none;
      return scene === "bench-cut" ? BENCH.cut : BENCH.sums;
    case "open_mechanism":
      return (
        BENCH[`form-${(request as { part: string }).part}` as keyof typeof BENCH] ??
        PARTS[`form-${(request as { part: string }).part}` as keyof typeof PARTS]
      );
    case "compare":
      return COMPARED[scene] ?? comparing.compareView(null);
    case "open_plans":
      return scene === "plan-empty" || scene === "change" ? { ...PLAN.list, follow_up: [] } : PLAN.list;
    case "sketch_plan":
      return {
        ...PLAN.view,
        follows: checking.CHECKS_TARGET.checked?.rows ?? [],
        ...(scene === "change" ? { rows: PLAN.view.rows.slice(0, 1), problems: [] } : {}),
      };
    case "search_plan":
      if (scene === "plan-search-none") return PLAN.none;
      if (scene !== "plan-search-running") return PLAN.search;
      if ((request as { effort: number }).effort > 1) return new Promise(() => {});
      return {
        ...PLAN.search,
        proved: false,
        done: 0.37,
        detail: "38,400 combinations; not all of them looked at yet.",
      };
    case "see_checks":
      if (scene === "checks-none") return checking.CHECKS_NONE;
      if ((request as { stance: { of: string } | null }).stance?.of === "planned") {
        const checked = checking.CHECKS_TARGET.checked;
        return { ...checking.CHECKS_TARGET, planned: [PLANNED], checked: checked && { ...checked, stance: PLANNED } };
      }
      return scene === "checks-target" ? checking.CHECKS_TARGET : checking.CHECKS;
    case "open_under":
      return checking.UNDER;
    case "see_ramp":
      return scene === "ramp-none"
        ? { ...RAMP.ramp, driven: null, nothing: RAMP.nothing }
        : scene === "ramp-clears"
          ? RAMP.clears
          : RAMP.ramp;
    case "open_grounds":
      return scene === "grounds-none" ? { ...RAMP.grounds, rows: [] } : RAMP.grounds;
    case "open_ground":
      return RAMP.ground;
    case "open_targets":
      return scene === "targets-none" ? { ...TARGETS.view, rows: [] } : TARGETS.view;
    case "see_fitment":
      return {
        ...FITMENT.view,
        ...standing(request),
        ...(scene === "fitment-nothing" ? { openings: [], nothing: NOTHING_MEASURED } : {}),
      };
    case "open_measured":
      return (request as { part: string }).part === "travel" ? FITMENT.travel : FITMENT.wheel;
    case "sketch_target":
      return TARGETS.sketch;
    case "set_out":
      return scene === "set-out-field" ? TARGETS.field : TARGETS.yard;
    case "open_photos":
      return PHOTOS;
    case "see_photo": {
      const { photo } = request as { photo: string };
      const [side = "", shift = "0"] = photo.split("/");
      return { photo, data_url: drawn(side, Number(shift)) };
    }
    case "count_photos":
      return { photos: 3, words: "3 photos, about 1.6 MB" };
    case "open_history": {
      const { after } = request as { after: number };
      if (scene === "history-empty") return NO_HISTORY;
      return { ...HISTORY, entries: after > 0 ? [] : HISTORY.entries };
    }
    case "measure_again":
      return {
        snapshot: "s",
        form: views.carView(side).begin,
        then: { ...views.carView(side).last_time, day: "12 July 2031" },
        words: "12 July 2031, 368 days ago",
        since: ["Other tires on 1 Sept 2031.", "Garage slab was levelled again on 2 Apr 2032."],
      };
    case "open_book":
      return views.BOOK;
    case "why":
      return views.WHY;
    case "open_walk":
    case "keep_draft":
    case "take_reading":
      return verb === "keep_draft"
        ? null
        : (WALKS[scene] ?? views.walkView(side, "in", [RAIL, HUB], 2, 0, { bounces: 2 }));
    case "check_sheet":
      return {
        slips: [
          {
            step: 12,
            from: "repeats",
            sentence: "These two differ by 25 mm. Read it once more?",
            hint: "",
            values: [265, 290],
            printed: ["10 7/16", "11 7/16"],
            labels: ["round 1", "round 2"],
            rounds: [1, 2],
          },
          {
            step: 4,
            from: "last_snapshot",
            sentence: "An inch more than on 12 July 2031. Read it once more?",
            hint: "",
            values: [579, 605],
            printed: ["22 13/16", "23 13/16"],
            labels: ["12 July 2031", "now"],
            rounds: [null, 1],
          },
        ],
      };
    case "enter_reading": {
      const { text } = request as { text: string };
      throw {
        code: "field_unreadable",
        sentence: "One field cannot be read.",
        hint: "",
        fields: [
          {
            field: "text",
            typed: text,
            sentence: `${text} is no length.`,
            hint: "Type it as 10 7/16.",
            proposals: ["10 7/16", "10 7/8"],
          },
        ],
      };
    }
    case "sketch_car":
      return views.sketch(side, (request as { form: CarForm }).form);
    case "open_instruments":
      return views.INSTRUMENTS;
    case "open_floor":
      return (
        { "floor-done": views.FLOOR_DONE, "floor-edge": views.FLOOR_EDGE, "floor-not": views.FLOOR_NOT }[scene] ??
        views.FLOOR
      );
    case "read_length":
      return {
        value_mm: 265.1,
        printed: "10 7/16 in",
        other: (request as { tape: string }).tape.startsWith("in") ? "265 mm" : "22 3/16 in",
      };
    case "kept_forms":
      return PLANS.has(scene)
        ? { forms: { "plan r": JSON.stringify({ form: PLAN.form, times: 5, aside: TAKEN_OUT[scene] ?? null }) } }
        : { forms: {} };
    case "keep_form":
      return null;
    case "read_load":
      return views.LOAD;
    case "open_condition":
      return { snapshot: "w", form: { ...views.carView(side).begin, confirmed: ["floor", "facing", "load"] } };
    case "read_tire":
      return { sentence: "5.00-16: about 666 mm ± 20, an estimate. A tape round it is better." };
    default:
      throw {
        code: "refused",
        sentence: `Nothing on the stage answers ${verb}.`,
        hint: "It is only a stage.",
        fields: [],
      };
  }
};

/** Scenes in which a plan is drawn up. */
const PLANS = new Set(
  ["plan", "plan-drop", "plan-finding", "plan-taken-out"].concat(
    ["checks", "ramp", "openings", "steering", "driveline", "springs", "stances"].map((page) => `plan-${page}`),
  ),
);
const TAKEN_OUT: Record<string, unknown> = {
  "plan-taken-out": {
    label: "Lowering block, rear",
    done: "is taken out.",
    change: { at: 1, change: { label: "", left_out: false, steps: [] } },
  },
};

/** Scenes that are reached by touching: what is touched, one after the other. */
const TOUCHES: Record<string, readonly string[]> = {
  history: ["history"],
  "history-empty": ["history"],
  "history-sheet": ["history", "open-entry-7"],
  event: ["history", "enter-event"],
  "event-leaves": ["history", "enter-event", "kind-leaves_out", "safety-go-on", "end-rear"],
  again: ["history", "same-as-last-year"],
  targets: ["open-menu", "targets"],
  "targets-none": ["open-menu", "targets"],
  "target-form": ["open-menu", "targets", "target-0", "change-target"],
  "target-sheet": ["open-menu", "targets", "target-0"],
  plan: ["tab-plan"],
  "plan-drop": ["tab-plan"],
  "plan-finding": ["tab-plan", "check-clearance.exhaust"],
  "plan-taken-out": ["tab-plan"],
  "plan-checks": ["tab-plan", "to-checks"],
  "plan-ramp": ["tab-plan", "to-ramp"],
  "plan-openings": ["tab-plan", "to-fitment"],
  "plan-steering": ["tab-plan", "to-steering"],
  "plan-driveline": ["tab-plan", "to-driveline"],
  "plan-springs": ["tab-plan", "to-springs"],
  "plan-stances": ["tab-plan", "to-steering", "pick-stance"],
  "plan-empty": ["tab-plan"],
  change: ["tab-plan", "add-first", "kind-reversed_eyes", "end-front"],
  "plan-search": ["tab-plan", "search", "start-search"],
  "plan-search-running": ["tab-plan", "search", "start-search"],
  "plan-search-none": ["tab-plan", "search", "start-search"],
  part: ["tab-plan", "search", "part-0"],
  "set-out": ["open-menu", "targets", "target-1", "set-out-target"],
  "set-out-field": ["open-menu", "targets", "set-out"],
  checks: ["to-checks"],
  "checks-target": ["to-checks"],
  "checks-none": ["to-checks"],
  "check-height": ["to-checks", "check-clearance.exhaust"],
  "check-lamp": ["to-checks", "check-lamps.lamp"],
  "check-caster": ["to-checks", "check-caster.caster"],
  under: ["to-under", "safety-go-on", "open-low-points", "open-lamps"],
  "caution-under": ["to-under"],
  "caution-gap": ["to-fitment", "part-wheel-FL"],
  "caution-stands": ["to-fitment", "part-travel-rear"],
  "caution-packs": ["to-springs", "describe"],
  "caution-leaves": ["history", "enter-event", "kind-leaves_out"],
  "caution-frame": ["history", "enter-event", "kind-frame_work"],
  "caution-straps": ["to-fitment", "add-strap"],
  "caution-jack": ["to-fitment", "add-jack"],
  fitment: ["to-fitment"],
  "fitment-rest": ["to-fitment", "state-at_rest"],
  "fitment-bump": ["to-fitment", "state-full_bump"],
  "fitment-rear": ["to-fitment", "wheel-RR"],
  "fitment-nothing": ["to-fitment"],
  "measured-wheel": ["to-fitment", "part-wheel-FL", "safety-go-on"],
  "measured-travel": ["to-fitment", "part-travel-rear", "safety-go-on"],
  ramp: ["to-ramp"],
  "ramp-clears": ["to-ramp"],
  "ramp-none": ["to-ramp"],
  grounds: ["to-ramp", "to-grounds"],
  "grounds-none": ["to-ramp", "to-grounds"],
  ground: ["to-ramp", "to-grounds", "own-ground-0", "read-on"],
  "ground-form": ["to-ramp", "to-grounds", "add-ground"],
  begin: ["tab-readings", "begin-snapshot"],
  "begin-same": ["tab-readings", "begin-snapshot", "same-all"],
  "begin-load": ["tab-readings", "begin-snapshot", "change-load", "fuel-4", "aboard-driver"],
  "begin-pressures": ["tab-readings", "begin-snapshot", "same-floor", "change-pressures", "tires-warm"],
  "begin-jack": ["tab-readings", "begin-snapshot", "stands-jack"],
  gearing: ["to-gearing"],
  "gearing-form": ["to-gearing", "describe"],
  steering: ["to-steering"],
  "steering-target": ["to-steering", "pick-stance", "stance-target-0"],
  "steering-form": ["to-steering", "describe", "safety-go-on"],
  driveline: ["to-driveline"],
  "driveline-form": ["to-driveline", "describe", "safety-go-on"],
  springs: ["to-springs"],
  "springs-empty": ["to-springs", "end-rear"],
  "springs-form": ["to-springs", "describe", "safety-go-on"],
  bench: ["to-bench-sums"],
  "bench-none": ["to-bench-sums"],
  "bench-steering_box": ["to-bench-sums", "sum-steering_box"],
  "bench-wedge": ["to-bench-sums", "sum-wedge"],
  "bench-cut": ["to-bench-sums", "sum-wedge"],
  "bench-pedal": ["to-bench-sums", "sum-pedal"],
  "bench-radiator": ["to-bench-sums", "sum-radiator"],
  "bench-weight": ["to-bench-sums", "sum-weight"],
  "bench-form": ["to-bench-sums", "sum-steering_box", "describe", "safety-go-on"],
  chocks: ["go-on"],
  bounce: ["go-on", "safety-go-on"],
  condition: ["how-it-stands"],
  sheet: ["go-on"],
  "sheet-slips": ["go-on", "sheet-done"],
  "begin-sheet": ["tab-readings", "enter-sheet"],
  compare: ["tab-compare"],
  "compare-since": ["tab-compare"],
  "compare-unknown": ["tab-compare"],
  "compare-settled": ["tab-compare"],
  "compare-empty": ["tab-compare"],
  corrected: ["tab-readings", "snapshot-0", "correct-something"],
  correcting: ["tab-readings", "snapshot-0", "correct-something", "book-reading-1"],
};

async function touch(names: readonly string[]) {
  for (const name of names) {
    for (let i = 0; i < 100 && !document.querySelector(`[data-test="${name}"]`); i++)
      await new Promise((later) => setTimeout(later, 20));
    document.querySelector<HTMLElement>(`[data-test="${name}"]`)?.click();
    await new Promise((later) => setTimeout(later, 60));
  }
  if (scene === "plan-drop") document.querySelector("[data-test='drops']")?.scrollIntoView({ block: "center" });
  if (scene === "begin-load") document.querySelector("[data-test='fuel-usual']")?.scrollIntoView();
}

const target = document.getElementById("app");
if (target) mount(App, { target, props: { ask: backend(carry) } });
for (const [nth, test] of touched.entries()) {
  setTimeout(
    () => {
      // `=name` puts the cursor into a field.
      if (test.startsWith("=")) document.getElementsByName(test.slice(1))[0]?.focus();
      else document.querySelector<HTMLElement>(`[data-test="${test}"], a[data-page="${test}"]`)?.click();
    },
    600 * (nth + 1),
  );
}
void touch(TOUCHES[scene] ?? (scene.startsWith("settling") ? ["tab-settling"] : []));
