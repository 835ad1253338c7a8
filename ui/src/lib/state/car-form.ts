// The form that adds or changes a car, empty or filled in.
import type { AxleForm } from "../../bindings/AxleForm";
import type { CarForm } from "../../bindings/CarForm";
import type { PointForm } from "../../bindings/PointForm";
import type { PointKind } from "../../bindings/PointKind";
import type { PointsForm } from "../../bindings/PointsForm";
import type { TapeUnit } from "../../bindings/TapeUnit";
import type { TireForm } from "../../bindings/TireForm";

export function emptyCar(tape: TapeUnit): CarForm {
  const tire = (): TireForm => ({ marking: "", pressure: "", measured_diameter: "" });
  const axle = (): AxleForm => ({ spring: null, words: "", base: "", side_rate: "", ride_rate: "", bar: "" });
  return {
    label: "",
    outline: "roadster",
    tape,
    wheelbase: "",
    track_front: "",
    track_rear: "",
    points: [emptyPoints("frame_rail")],
    further: [],
    body: { overhang_front: "", overhang_rear: "", roof_height: "", hood_height: "" },
    springs: { front: axle(), rear: axle(), roll_share: "", lean_gain: "" },
    loads: {
      mass: "",
      front_share: "",
      axle_front: "",
      axle_rear: "",
      tank_size: "",
      tank_place: "",
      seat_front: "",
      seat_rear: "",
    },
    tires: { FL: tire(), FR: tire(), RL: tire(), RR: tire() },
    nominal_load: "",
  };
}

export function emptyPoints(kind: PointKind): PointsForm {
  // A lip is read straight over the wheel centre, so its place along the car is known before anything is measured.
  const along = kind === "fender_lip" ? "0" : "";
  return {
    kind,
    front_behind_axle: along,
    front_apart: "",
    rear_ahead_of_axle: along,
    rear_apart: "",
    what: "",
    retired: false,
  };
}

export function emptyMark(): PointForm {
  return { id: "", corner: "FL", kind: "other", behind_front_axle: "", from_middle: "", what: "", retired: false };
}
