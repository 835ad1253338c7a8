// What the keys do to a half-typed reading. The text is always what was typed; nothing here decides what it means.

/** A text of the shape the inch keys make: whole inches and a fraction, either of which may be missing. */
export interface InchParts {
  whole: string;
  numerator: number | null;
  denominator: number;
}

const INCHES = /^(\d*)(?:\s*(?:^|\s)(\d+)\/(\d+))?$/;

/** The parts of "10 7/16", "10", "7/16" or ""; null for any other shape ("10 7/", "23-5/8", "60 cm"). */
export function inchParts(text: string): InchParts | null {
  const match = INCHES.exec(text.trim());
  if (!match) return null;
  const [, whole = "", numerator, denominator] = match;
  if (numerator === undefined || denominator === undefined) return { whole, numerator: null, denominator: 16 };
  if (Number(denominator) === 0) return null;
  return { whole, numerator: Number(numerator), denominator: Number(denominator) };
}

/** Which mark of a strip of that many divisions the text stands on; null where its fraction is none of them. */
export function stripMark(text: string, divisions: 16 | 32 = 16): number | null {
  const parts = inchParts(text);
  if (!parts || parts.numerator === null) return null;
  const mark = (parts.numerator * divisions) / parts.denominator;
  return Number.isInteger(mark) && mark >= 0 && mark < divisions ? mark : null;
}

/** A digit key in inches goes to the whole inches, before a fraction that is already there. */
export function withInchDigit(text: string, digit: string): string {
  const parts = inchParts(text);
  if (!parts) return text + digit;
  return joined({ ...parts, whole: parts.whole + digit });
}

/** A tap on the strip takes that fraction; a second tap on the same one clears it, and so does the mark 0. */
export function withStripMark(text: string, mark: number, divisions: 16 | 32 = 16): string {
  if (mark === 0 || stripMark(text, divisions) === mark) return withFraction(text, 0, divisions);
  return withFraction(text, mark, divisions);
}

/** The key of the thirty-second: adds one to the sixteenth that is chosen, or takes it away again. */
export function withThirtySecond(text: string): string {
  const mark = stripMark(text, 32) ?? 0;
  return withFraction(text, mark % 2 === 0 ? mark + 1 : mark - 1, 32);
}

/** A finger that slid along the strip chose this mark, whatever was chosen before. */
export function withFraction(text: string, mark: number, divisions: 16 | 32): string {
  const parts = inchParts(text);
  const whole = parts ? parts.whole : (/^\d+/.exec(text.trim())?.[0] ?? "");
  if (mark === 0) return joined({ whole, numerator: null, denominator: 16 });
  return joined({ whole, ...reduced(mark, divisions) });
}

/** The erase key takes the fraction first, then one character at a time. */
export function erased(text: string): string {
  const parts = inchParts(text);
  if (parts && parts.numerator !== null) return parts.whole;
  return text.slice(0, -1).trimEnd();
}

/** The ".5" key of a millimetre pad: adds it, or takes it away again. */
export function withHalf(text: string): string {
  if (text.endsWith(".5")) return text.slice(0, -2);
  return /^\d+$/.test(text) ? `${text}.5` : text;
}

/** The point key of the gauge's and the centimetre pad: one decimal point. */
export function withPoint(text: string): string {
  if (text.includes(".")) return text;
  return /\d$/.test(text) ? `${text}.` : `${text}0.`;
}

/** The sign keys of the gauge: nose-down is positive, nose-up carries a minus. */
export function withSign(text: string, noseUp: boolean): string {
  const bare = text.replace(/^[-−]/, "");
  return noseUp ? `-${bare}` : bare;
}

/** Characters a hardware keyboard may type into a reading; anything else is left to the window. */
export function typeable(key: string): boolean {
  return key.length === 1 && /^[0-9 .,/⁄\-−–+'"′″’”a-z°½¼¾⅛⅜⅝⅞⅓⅔]$/i.test(key);
}

function joined({ whole, numerator, denominator }: InchParts): string {
  if (numerator === null) return whole;
  const fraction = `${numerator}/${denominator}`;
  return whole === "" ? fraction : `${whole} ${fraction}`;
}

/** A mark of a strip as a tape prints it: 6 of 16 is 3/8. */
export function reduced(mark: number, divisions: 16 | 32): { numerator: number; denominator: number } {
  let numerator = mark;
  let denominator: number = divisions;
  while (numerator > 0 && numerator % 2 === 0) {
    numerator /= 2;
    denominator /= 2;
  }
  return { numerator, denominator };
}
