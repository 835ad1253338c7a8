// The form that adds or changes a car, empty or filled in.
import type { CarForm } from "../../bindings/CarForm";
import type { PointKind } from "../../bindings/PointKind";
import type { PointsForm } from "../../bindings/PointsForm";
import type { TapeUnit } from "../../bindings/TapeUnit";
import type { TireForm } from "../../bindings/TireForm";

export function emptyCar(tape: TapeUnit): CarForm {
  const tire = (): TireForm => ({ marking: "", pressure: "", measured_diameter: "" });
  return {
    label: "",
    outline: "roadster",
    tape,
    wheelbase: "",
    track_front: "",
    track_rear: "",
    points: [emptyPoints("frame_rail")],
    tires: { FL: tire(), FR: tire(), RL: tire(), RR: tire() },
    nominal_load: "",
  };
}

export function emptyPoints(kind: PointKind): PointsForm {
  // A lip is read straight over the wheel centre, so its place along the car is known before anything is measured.
  const along = kind === "fender_lip" ? "0" : "";
  return { kind, front_behind_axle: along, front_apart: "", rear_ahead_of_axle: along, rear_apart: "", what: "" };
}
