// Every verb with its request and its reply, as crates/app/src/wire lists them.
import type { AskWhy } from "../../bindings/AskWhy";
import type { BlankSheet } from "../../bindings/BlankSheet";
import type { CarForm } from "../../bindings/CarForm";
import type { CarRef } from "../../bindings/CarRef";
import type { CarView } from "../../bindings/CarView";
import type { ChangeCar } from "../../bindings/ChangeCar";
import type { Exported } from "../../bindings/Exported";
import type { FloorForm } from "../../bindings/FloorForm";
import type { FloorRef } from "../../bindings/FloorRef";
import type { FloorView } from "../../bindings/FloorView";
import type { GarageView } from "../../bindings/GarageView";
import type { GoToStep } from "../../bindings/GoToStep";
import type { ImportFile } from "../../bindings/ImportFile";
import type { KeepDraft } from "../../bindings/KeepDraft";
import type { LengthRead } from "../../bindings/LengthRead";
import type { ReadLength } from "../../bindings/ReadLength";
import type { ReadTire } from "../../bindings/ReadTire";
import type { ResultView } from "../../bindings/ResultView";
import type { SeeResult } from "../../bindings/SeeResult";
import type { Settings } from "../../bindings/Settings";
import type { SnapshotForm } from "../../bindings/SnapshotForm";
import type { SnapshotRef } from "../../bindings/SnapshotRef";
import type { StrikeReading } from "../../bindings/StrikeReading";
import type { TakeFloorReading } from "../../bindings/TakeFloorReading";
import type { TakeReading } from "../../bindings/TakeReading";
import type { TireRead } from "../../bindings/TireRead";
import type { WalkView } from "../../bindings/WalkView";
import type { WhyView } from "../../bindings/WhyView";

type Nothing = Record<string, never>;

export interface Verbs {
  open_garage: [Nothing, GarageView];
  open_sample_garage: [Nothing, GarageView];
  set_settings: [Settings, GarageView];
  add_car: [CarForm, CarView];
  change_car: [ChangeCar, CarView];
  open_car: [CarRef, CarView];
  read_length: [ReadLength, LengthRead];
  read_tire: [ReadTire, TireRead];
  add_floor: [FloorForm, FloorView];
  open_floor: [FloorRef, FloorView];
  take_floor_reading: [TakeFloorReading, FloorView];
  undo_floor_reading: [FloorRef, FloorView];
  put_back_floor_reading: [FloorRef, FloorView];
  add_pass: [FloorRef, FloorView];
  begin_snapshot: [SnapshotForm, WalkView];
  open_walk: [SnapshotRef, WalkView];
  go_to_step: [GoToStep, WalkView];
  keep_draft: [KeepDraft, null];
  take_reading: [TakeReading, WalkView];
  undo_reading: [SnapshotRef, WalkView];
  put_back: [SnapshotRef, WalkView];
  strike_reading: [StrikeReading, WalkView];
  finish_snapshot: [SnapshotRef, CarView];
  see_result: [SeeResult, ResultView];
  why: [AskWhy, WhyView];
  blank_sheet: [CarRef, BlankSheet];
  export_car: [CarRef, Exported];
  import_file: [ImportFile, GarageView];
}

export type Verb = keyof Verbs;
export type Request<V extends Verb> = Verbs[V][0];
export type Reply<V extends Verb> = Verbs[V][1];
