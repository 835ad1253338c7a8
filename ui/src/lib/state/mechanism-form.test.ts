import { expect, test } from "vitest";
import type { MechanismFormView } from "../../bindings/MechanismFormView";
import type { MechanismList } from "../../bindings/MechanismList";
import { MechanismFormState } from "./mechanism-form.svelte";

const field = (name: string) => ({ name, words: name, hint: "", unit: "", choices: [] });
const leaves: MechanismList = {
  name: "leaves",
  one: "Leaf",
  add: "Add a leaf",
  most: 4,
  fields: [field("thick"), field("long")],
};
const section = { title: "", words: "", shows: "", only: null, fields: [], list: null };
const view: MechanismFormView = {
  title: "A part",
  caution: "",
  sections: [
    { ...section, list: leaves },
    { ...section, only: { name: "guide", values: ["leaf"] } },
    { ...section, fields: [{ ...field("guide"), choices: [{ value: "leaf", words: "leaf" }] }] },
  ],
  form: { car: "c", part: "steering", tape: "mm", values: {} },
};
const typed = {
  "leaves.0.thick": "6",
  "leaves.1.thick": "7",
  "leaves.1.long": "900",
  "leaves.2.thick": "8",
  guide: "rod",
};

test("a row that is left out lets those after it move up, and nothing of it stays", () => {
  const form = new MechanismFormState(view, { tape: "mm", values: typed });
  expect(form.rows(leaves)).toBe(3);
  form.leave(leaves, 1);
  expect(form.values).toEqual({ "leaves.0.thick": "6", "leaves.1.thick": "8", guide: "rod" });
  form.add(leaves);
  expect(form.rows(leaves)).toBe(3);
  form.leave(leaves, 2);
  expect(form.rows(leaves)).toBe(2);
});

test("a section is asked for only with the choice it belongs to", () => {
  const form = new MechanismFormState(view, { tape: "mm", values: typed });
  const asked = () => view.sections.map((one) => form.asked(one));
  expect(asked()).toEqual([true, false, true]);
  form.set("guide", "leaf");
  expect(asked()).toEqual([true, true, true]);
});

test("emptied, it keeps the choices only", () => {
  const form = new MechanismFormState(view, { tape: "mm", values: typed });
  form.clear();
  expect(form.form.values).toEqual({ guide: "rod" });
});
