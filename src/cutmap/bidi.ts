import bidiFactory from 'bidi-js';

/** Hebrew, Arabic and their kin, and the forms kept for old files. */
const LETTER = '[\\u0590-\\u08ff\\ufb1d-\\ufdff\\ufe70-\\ufefc]';
/** From such a letter to the last one before a letter of another script: a name, never the figures that stand after it. */
const STRETCH = new RegExp(`${LETTER}(?:(?:(?!${LETTER})\\P{L})*${LETTER})*`, 'gu');

const PAIRS = [
  ['(', ')'],
  ['[', ']'],
  ['{', '}'],
  ['«', '»'],
] as const;

/** A stretch with the bracket beside it whose other one it holds: a pair is read from one side (UAX 9, rule N0). */
function withBrackets(line: string, start: number, end: number): [start: number, end: number] {
  const inside = line.slice(start, end);
  for (const [open, close] of PAIRS) {
    const more = inside.split(open).length - inside.split(close).length;
    if (more > 0 && line[end] === close) return withBrackets(line, start, end + 1);
    if (more < 0 && line[start - 1] === open) return withBrackets(line, start - 1, end);
  }
  return [start, end];
}

/** A line parted into what is read from the right and what is not, in the order of reading. */
function parted(line: string): { readonly words: string; readonly fromRight: boolean }[] {
  const out: { words: string; fromRight: boolean }[] = [];
  let from = 0;
  for (const found of line.matchAll(STRETCH)) {
    const [start, end] = withBrackets(line, found.index, found.index + found[0].length);
    if (start > from) out.push({ words: line.slice(from, start), fromRight: false });
    out.push({ words: line.slice(start, end), fromRight: true });
    from = end;
  }
  if (from < line.length || out.length === 0) out.push({ words: line.slice(from), fromRight: false });
  return out;
}

/**
 * A line as stretches from left to right on the paper. What is read from the right is set so by itself (UAX 9), and moves nothing beside it: a
 * length and a width never change places after a name. A typeface sets a stretch of Hebrew or Arabic from the right; brackets in it are turned here.
 */
export const stretches = (line: string): string[] =>
  parted(line).flatMap(({ words, fromRight }) => (fromRight ? laid(words) : [words]));

/** The same for a reader that orders by itself: each such stretch kept apart by marks (right-to-left isolate, U+2067 and U+2069). */
export const isolated = (line: string): string =>
  parted(line)
    .map(({ words, fromRight }) => (fromRight ? `\u2067${words}\u2069` : words))
    .join('');

function laid(words: string): string[] {
  const bidi = bidiFactory();
  const embedding = bidi.getEmbeddingLevels(words, 'rtl');
  const order = Array.from({ length: words.length }, (_, i) => i);
  for (const [first, last] of bidi.getReorderSegments(words, embedding))
    order.splice(first, last - first + 1, ...order.slice(first, last + 1).reverse());
  const out: { level: number; places: number[] }[] = [];
  for (const place of order) {
    const level = embedding.levels[place] as number;
    const last = out.at(-1);
    if (last?.level === level) last.places.push(place);
    else out.push({ level, places: [place] });
  }
  return out.map(({ level, places }) => {
    if (level % 2 === 0) return places.map((i) => words[i]).join('');
    return places
      .reverse()
      .map((i) => bidi.getMirroredCharacter(words[i] as string) ?? words[i])
      .join('');
  });
}
