// A hardware keyboard on a screen with our own keypad: characters are typed, Backspace erases, Enter takes, Escape leaves.
import { erased, typeable } from "./entry";

export interface Typing {
  edit: (change: (text: string) => string) => void;
  take: () => void;
  escape: () => void;
  /** What a letter does while nothing is typed: no notation begins with one. */
  letters?: Partial<Record<string, () => void>>;
  /** True while nothing is typed. */
  empty?: boolean;
}

/** Handles a key unless it belongs to a field, a sheet, or a button that was reached with the keyboard. */
export function typedBy(event: KeyboardEvent, typing: Typing): void {
  if (event.ctrlKey || event.metaKey || event.altKey || event.defaultPrevented) return;
  const focus = document.activeElement;
  if (focus instanceof HTMLInputElement && focus.type !== "radio") return;
  if (document.querySelector("dialog[open]")) return;
  const onControl = focus instanceof HTMLElement && focus.matches("button, input") && focus.matches(":focus-visible");
  if (onControl && (event.key === "Enter" || event.key === " ")) return;
  if (event.key === "Enter") typing.take();
  else if (event.key === "Backspace") typing.edit(erased);
  else if (event.key === "Escape") typing.escape();
  else if (typing.empty && typing.letters?.[event.key.toLowerCase()]) typing.letters[event.key.toLowerCase()]?.();
  else if (typeable(event.key)) typing.edit((text) => text + event.key);
  else return;
  event.preventDefault();
}
