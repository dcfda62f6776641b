import { LENGTH_UNITS, type LengthUnit } from './length-units';
import { InputProblem, quoted } from './problem';

/** What a bare number means, and what is printed: millimetres, or inches with fractions. */
export type UnitSystem = 'mm' | 'in';

/** No length is written with more characters; what is longer is not looked into. */
const MOST_TYPED = 200;

/** A tree of 100 m is rare: longer is a slip of the finger. */
const LONGEST = 100_000;

const VULGAR: Readonly<Record<string, string>> = {
  '½': '1/2',
  '¼': '1/4',
  '¾': '3/4',
  '⅓': '1/3',
  '⅔': '2/3',
  '⅛': '1/8',
  '⅜': '3/8',
  '⅝': '5/8',
  '⅞': '7/8',
};
const SMALL_DIGITS = '⁰¹²³⁴⁵⁶⁷⁸⁹₀₁₂₃₄₅₆₇₈₉';

/** The text as typed on a plain keyboard: fractions and quotes of every kind become one form. */
function plain(text: string): string {
  return (
    text
      .replace(/[½¼¾⅓⅔⅛⅜⅝⅞]/g, (c) => ` ${VULGAR[c]}`)
      // Only in a fraction: of 3² nobody knows what it means.
      .replace(
        /[⁰¹²³⁴⁵⁶⁷⁸⁹]+⁄[₀₁₂₃₄₅₆₇₈₉\d]+/g,
        (c) => ` ${c.replace(/[^⁄\d]/g, (d) => String(SMALL_DIGITS.indexOf(d) % 10))}`,
      )
      .replace(/[⁄∕]/g, '/')
      .replace(/[−–‒—]/g, '-')
      .replace(/[′’‘´`]/g, "'")
      .replace(/''|[″“”]/g, '"')
      .replace(/\s+/g, ' ')
      .trim()
      .toLowerCase()
  );
}

/** `63`, `63.5`, `63,5`, `5/8`, `63 5/8`, `63-5/8` and the unit behind it. */
const TERM = /^(\d+ ?\/ ?\d+|\d+(?: ?- ?| )\d+ ?\/ ?\d+|[\d.,]+) ?("|'|[a-z]+\.?)? ?/;

/** The number that a person typed, or the sentence that says why it is none. */
function amount(text: string, unit: LengthUnit | undefined, fail: (message: string, mend: string) => never): number {
  const mixed = /^(?:(\d+)(?: ?- ?| ))?(\d+) ?\/ ?(\d+)$/.exec(text);
  if (mixed) {
    const [whole, over, under] = [Number(mixed[1] ?? 0), Number(mixed[2]), Number(mixed[3])];
    if (under === 0) return fail(`${quoted(text)} divides by nothing.`, 'Write a fraction such as 5/8.');
    if (mixed[1] !== undefined && over >= under)
      return fail(
        `${quoted(text)} has a fraction of one or more.`,
        `Write the whole inches and a fraction under one, such as ${whole} 5/8.`,
      );
    return whole + over / under;
  }
  const commas = text.split(',').length - 1;
  const points = text.split('.').length - 1;
  if (/^\d{1,3}(,\d{3})+(\.\d*)?$/.test(text) && (commas > 1 || points === 1)) return Number(text.replaceAll(',', ''));
  if (/^[1-9]\d{0,2},\d{3}$/.test(text) && unit?.name !== 'm') {
    const [digits, decimals] = [text.replace(',', ''), text.replace(',', '.')];
    return fail(`${quoted(text)} can be read as ${digits} or as ${decimals}.`, `Write ${digits} or ${decimals}.`);
  }
  if (commas + points > 1 || !/\d/.test(text))
    return fail(`${quoted(text)} is not a number.`, 'Write digits with one decimal point, or a fraction.');
  return Number(text.replace(',', '.'));
}

/**
 * A length as people type it, in mm. Units that are written win over `system`, which says what a bare number means:
 * `5' 3 1/2"`, `63 1/2`, `63-1/2 in`, `63½"`, `5 ft 3`, `1.6 m`, `1,6 m`, `160 cm`, `1613`, `-1/4"`. A sign stands in front and
 * holds for all of it. Smaller units may follow larger ones of the same kind.
 * @param where JSON pointer or field name, for the problem
 * @throws InputProblem when it is no length, can be read in two ways, or is over 100 m
 */
export function parseLength(text: string, system: UnitSystem, where = ''): number {
  const fail = (message: string, mend: string): never => {
    throw new InputProblem(message, where, mend);
  };
  const example = system === 'mm' ? '1613, 161.3 cm or 1.613 m' : '63 1/2, 63.5 or 5\' 3 1/2"';
  if (text.length > MOST_TYPED)
    return fail(`${quoted(text.trim())} is not a length.`, `Write one, such as ${example}.`);
  const [, sign, body] = /^([+-]?) ?(.*)$/.exec(plain(text)) as unknown as [string, string, string];
  if (body === '') return fail('There is no length here.', `Write one, such as ${example}.`);
  let rest = body;
  let total = 0;
  let before: LengthUnit | undefined;
  while (rest !== '') {
    const term = TERM.exec(rest);
    if (!term) return fail(`${quoted(text.trim())} is not a length.`, `Write one, such as ${example}.`);
    const [whole, number, word] = term as unknown as [string, string, string | undefined];
    rest = rest.slice(whole.length);
    const unit = word === undefined ? bare(before, system) : LENGTH_UNITS.get(word.replace('.', ''));
    if (!unit) {
      return word === undefined
        ? fail(
            `${quoted(text.trim())} does not say what ${quoted(number)} is.`,
            'Write the unit behind each number, such as 1 m 60 cm.',
          )
        : fail(`${quoted(word)} is not a unit of length that is known here.`, 'Use mm, cm, m, in or ft.');
    }
    if (before && (unit.kind !== before.kind || unit.mm >= before.mm))
      return fail(
        `${quoted(text.trim())} mixes its units.`,
        'Put feet before inches, or metres before centimetres and millimetres.',
      );
    total += amount(number, unit, fail) * unit.mm;
    before = unit;
  }
  // Digits without end divided by digits without end are no number.
  if (!(total <= LONGEST)) return fail(`${quoted(text.trim())} is over 100 m.`, 'Check the digits and the unit.');
  return sign === '-' && total !== 0 ? -total : total;
}

/** What a number without a unit means: the system's unit, or inches behind feet. */
function bare(before: LengthUnit | undefined, system: UnitSystem): LengthUnit | undefined {
  if (before === undefined) return LENGTH_UNITS.get(system);
  return before.name === 'ft' ? LENGTH_UNITS.get('in') : undefined;
}

const SET_FRACTIONS = new Map(Object.entries(VULGAR).map(([set, typed]) => [typed, set]));

/** A fraction set with its own character, or with small figures over and under a fraction slash. */
function setFraction(over: number, under: number): string {
  const small = (n: number, from: number) => [...String(n)].map((d) => SMALL_DIGITS[from + Number(d)]).join('');
  return SET_FRACTIONS.get(`${over}/${under}`) ?? `${small(over, 0)}⁄${small(under, 10)}`;
}

/** How a length is printed. */
export interface LengthStyle {
  /** Finest fraction of an inch. */
  readonly denominator?: 8 | 16 | 32;
  /** Most decimals of a millimetre; zeros at the end are dropped. */
  readonly decimals?: number;
  /** Keep the zeros at the end of millimetres, so that a column of figures lines up. */
  readonly keepZeros?: boolean;
  /** Say `mm` behind millimetres. Inches always bear their mark. */
  readonly unit?: boolean;
  /** `set` for reading: true minus, fraction characters, no line break. `typed` as on a keyboard, for fields, tables and file names. */
  readonly as?: 'set' | 'typed';
}

/**
 * A length as people read it: `2200` or `2200.5 mm`; `86 ⅝"`, reduced, to the nearest 1/16 (or 1/8, 1/32) of an inch.
 * `parseLength` reads every form back, within the rounding.
 */
export function formatLength(mm: number, system: UnitSystem, style: LengthStyle = {}): string {
  const { denominator = 16, decimals = 1, keepZeros = false, unit = false, as = 'set' } = style;
  const [minus, space] = as === 'set' ? ['−', '\u00a0'] : ['-', ' '];
  if (system === 'mm') {
    const fixed = Math.abs(mm).toFixed(decimals);
    const digits = keepZeros ? fixed : String(Number(fixed));
    return `${mm < 0 && Number(digits) !== 0 ? minus : ''}${digits}${unit ? `${space}mm` : ''}`;
  }
  const parts = Math.round((Math.abs(mm) / 25.4) * denominator);
  const whole = Math.floor(parts / denominator);
  let [over, under] = [parts % denominator, denominator as number];
  for (; over > 0 && over % 2 === 0; over /= 2) under /= 2;
  const fraction = over === 0 ? '' : as === 'set' ? setFraction(over, under) : `${over}/${under}`;
  const body = fraction === '' ? String(whole) : whole === 0 ? fraction : `${whole}${space}${fraction}`;
  return `${mm < 0 && parts > 0 ? minus : ''}${body}"`;
}
