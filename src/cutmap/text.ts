import type { Bounds, Point } from '../geometry';
import { stretches } from './bidi';
import type { Text } from './drawing';

/**
 * How text is set: its width from the font's own figures, fractions as fractions, paragraphs broken into lines. The font is an
 * argument (bytes), since Node and a browser fetch it in their own ways.
 */

/** The two weights of the sheets' typeface, measured. */
export interface Typeface {
  readonly regular: Uint8Array;
  readonly bold: Uint8Array;
  readonly family: string;
  /** Height of a capital as a share of the em. */
  readonly capital: number;
  /** Width in mm of one line of text set with capitals `size` mm high. */
  measure(text: string, size: number, bold: boolean): number;
  /** The text as this typeface can print it: control characters gone, what it has no glyph for as U+FFFD. */
  printable(text: string): string;
}

/** A stretch of text of one size: the numbers of a fraction are smaller and raised. */
export interface Run {
  readonly text: string;
  /** Share of the line's size. */
  readonly scale: number;
  /** Shares of the line's size upwards. */
  readonly rise: number;
}

const VULGAR: Record<string, string> = {
  '¼': '1⁄4',
  '½': '1⁄2',
  '¾': '3⁄4',
  '⅓': '1⁄3',
  '⅔': '2⁄3',
  '⅛': '1⁄8',
  '⅜': '3⁄8',
  '⅝': '5⁄8',
  '⅞': '7⁄8',
};
const SMALL_DIGITS = '⁰¹²³⁴⁵⁶⁷⁸⁹₀₁₂₃₄₅₆₇₈₉';
const NUMERATOR = { scale: 0.68, rise: 0.36 };
const DENOMINATOR = { scale: 0.68, rise: -0.06 };

const plainDigits = (digits: string): string =>
  Array.from(digits, (c) => (SMALL_DIGITS.includes(c) ? SMALL_DIGITS.indexOf(c) % 10 : c)).join('');

/** Splits a line at its fractions (`⁵⁄₁₆` with U+2044, 5/16" as one types it, or the ready-made ½ and its kin), so that all are set alike. */
export function runs(line: string): Run[] {
  const plain = line.replace(/[¼½¾⅓⅔⅛⅜⅝⅞]/g, (c) => VULGAR[c] ?? c);
  const out: Run[] = [];
  let from = 0;
  for (const found of plain.matchAll(/([\d⁰¹²³⁴⁵⁶⁷⁸⁹]+)(?:⁄([\d₀₁₂₃₄₅₆₇₈₉]+)|\/(\d+)(?="))/g)) {
    // A thin gap takes the place of the space between the whole number and its fraction.
    const before = plain.slice(from, found.index).replace(/(\d)[ \u00a0]$/, '$1\u2009');
    if (before) out.push({ text: before, scale: 1, rise: 0 });
    out.push({ text: plainDigits(found[1] as string), ...NUMERATOR });
    out.push({ text: '⁄', scale: 1, rise: 0 });
    out.push({ text: plainDigits((found[2] ?? found[3]) as string), ...DENOMINATOR });
    from = found.index + found[0].length;
  }
  const rest = plain.slice(from);
  if (rest || out.length === 0) out.push({ text: rest, scale: 1, rise: 0 });
  return out;
}

/** The same as it stands on the paper, from left to right: for a writer that sets its glyphs itself. */
export const laidRuns = (line: string): Run[] => stretches(line).flatMap(runs);

/** Characters that no sheet prints: controls, lone surrogates, and marks that turn the reading direction of what follows. */
const UNPRINTED = /\p{Cc}|\p{Cf}|\p{Cs}|\p{Zl}|\p{Zp}|\ufe0f/gu;

/** The text without control characters, so that it stays one line and cannot end a field of a drawing file. */
export const oneLine = (words: string): string => words.replace(/[\r\n\t\u2028\u2029]+/g, ' ').replace(UNPRINTED, '');

/** Text whose every character is one glyph whatever stands beside it: Latin and what the sheets' own words use. */
const UNSHAPED = /^[\u0020-\u024f\u2000-\u206f\u2190-\u22ff]*$/;

/**
 * Reads the two weights of a TrueType typeface.
 * @param regular, bold the files' bytes
 * @throws Error when the bytes are no font
 */
export async function loadTypeface(regular: Uint8Array, bold: Uint8Array): Promise<Typeface> {
  const { default: fontkit } = await import('@pdf-lib/fontkit');
  const [light, heavy] = [fontkit.create(regular), fontkit.create(bold)];
  const known = new Map<string, number>();
  // The writers show glyphs at their own advance, without kerning and ligatures: so does this.
  const shaped = (words: string, isBold: boolean): number => {
    const key = (isBold ? 'b' : 'r') + words;
    let width = known.get(key);
    if (width === undefined) {
      const font = isBold ? heavy : light;
      width = font.layout(words, { liga: false }).glyphs.reduce((sum, glyph) => sum + glyph.advanceWidth, 0);
      width /= font.unitsPerEm;
      known.set(key, width);
    }
    return width;
  };
  const widthOf = (words: string, isBold: boolean): number => {
    if (!UNSHAPED.test(words)) return shaped(words, isBold);
    let width = 0;
    for (const character of words) width += shaped(character, isBold);
    return width;
  };
  // The height of an H itself: older font files do not say their capitals' height.
  const capital = light.glyphForCodePoint(72).bbox.maxY / light.unitsPerEm;
  const printable = (words: string): string =>
    Array.from(oneLine(words), (c) => (light.hasGlyphForCodePoint(c.codePointAt(0) ?? 0) ? c : '\ufffd')).join('');
  return {
    regular,
    bold,
    family: light.familyName ?? 'DejaVu Sans',
    capital,
    measure: (words, size, isBold) =>
      laidRuns(printable(words)).reduce(
        (sum, run) => sum + (widthOf(run.text, isBold) * run.scale * size) / capital,
        0,
      ),
    printable,
  };
}

/** How far a line reaches over and under its baseline, in shares of the height of its capitals (DejaVu's own figures, rounded up). */
export const ABOVE = 1.06;
export const BELOW = 0.33;

/** The box that a line of text fills on the sheet, mm. */
export function textBounds(element: Text, typeface: Typeface): Bounds {
  const width = typeface.measure(element.text, element.size, element.bold);
  const start = element.anchor === 'start' ? 0 : element.anchor === 'middle' ? -width / 2 : -width;
  const t = (element.turn * Math.PI) / 180;
  const corners: Point<'paper'>[] = [
    [start, -ABOVE * element.size],
    [start + width, -ABOVE * element.size],
    [start + width, BELOW * element.size],
    [start, BELOW * element.size],
  ];
  const xs = corners.map(([x, y]) => element.at[0] + x * Math.cos(t) - y * Math.sin(t));
  const ys = corners.map(([x, y]) => element.at[1] + x * Math.sin(t) + y * Math.cos(t));
  return { minX: Math.min(...xs), minY: Math.min(...ys), maxX: Math.max(...xs), maxY: Math.max(...ys) };
}

/** A paragraph as lines no wider than `width`; a word that is wider is broken. */
export function wrap(words: string, width: number, size: number, bold: boolean, typeface: Typeface): string[] {
  const fits = (line: string): boolean => typeface.measure(line, size, bold) <= width;
  const lines: string[] = [];
  let line = '';
  for (const word of oneLine(words).split(/ +/)) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (fits(longer)) {
      line = longer;
      continue;
    }
    if (line !== '') lines.push(line);
    line = '';
    for (const character of word) {
      if (line !== '' && !fits(line + character)) {
        lines.push(line);
        line = '';
      }
      line += character;
    }
  }
  if (line !== '' || lines.length === 0) lines.push(line);
  return lines;
}

/** The same, cut short with an ellipsis after so many lines. */
export function wrapAtMost(most: number, ...[words, width, size, bold, typeface]: Parameters<typeof wrap>): string[] {
  const lines = wrap(words, width, size, bold, typeface);
  if (lines.length <= most) return lines;
  const last = `${lines[most - 1]} ${lines[most]}`;
  return [...lines.slice(0, most - 1), shorten(last, width, size, bold, typeface)];
}

/** The text cut short with an ellipsis where it is wider than `width`. */
export function shorten(words: string, width: number, size: number, bold: boolean, typeface: Typeface): string {
  const line = oneLine(words);
  if (typeface.measure(line, size, bold) <= width) return line;
  const characters = Array.from(line);
  let [fits, tooLong] = [0, characters.length];
  while (tooLong - fits > 1) {
    const middle = (fits + tooLong) >> 1;
    const short = `${characters.slice(0, middle).join('')}…`;
    if (typeface.measure(short, size, bold) <= width) fits = middle;
    else tooLong = middle;
  }
  return `${characters.slice(0, fits).join('').trimEnd()}…`;
}
