import { CARD_MARGIN, MARKER_CELLS, MARKER_COUNT, markerPattern } from '../photo';
import { formatLength, InputProblem, type UnitSystem } from '../units';
import { type Block, flow, heightOf, moved, paragraph, space } from './blocks';
import { CHECK_LINES, checkLines } from './check-lines';
import { box, type Element, type Sheet, text } from './drawing';
import { MARGIN, sheetGroup } from './page';
import { PAPERS, type PaperName } from './papers';
import type { Typeface } from './text';

/** Cards to print and lay on a slab, by which its photo is measured. */
export interface CardRequest {
  /** Side of the black square, mm. */
  readonly side: number;
  /** How many cards, numbered from 0: a number is laid once in a photo. */
  readonly count: number;
  readonly paper: PaperName;
  readonly units: UnitSystem;
  readonly typeface: Typeface;
}

/** A smaller marker is no longer read from where a slab fits into the picture, mm (practice, no source). */
const LEAST_SIDE = 25;
/** Room between the cards and what is written below them, mm. */
const GAP = 3;
/** Height of a capital of a card's number, mm. */
const LABEL = 2.5;

const HOW = [
  'Print at actual size (100 %) and hold a rule to both lines above. Then measure the side of a black square on the print, to half a millimetre, and type it into the app: the print counts, not what was asked for.',
  'Cut along the dashed lines and leave the white border whole. On card or thin plywood they stay flat.',
  'Lay them flat on the wood, one near each corner of the slab, any way round: not on bark, not over an edge, no number twice. Photograph the whole slab from as high as you can, looking straight down, in even light.',
];

/** How the cards lie on a page: its size, columns and rows, and what is written below them. */
interface Page {
  readonly width: number;
  readonly height: number;
  readonly columns: number;
  readonly rows: number;
  readonly notes: readonly Block[];
}

/** The page one way round; no columns or rows where not even one card fits. */
function pageOf(card: number, width: number, height: number, typeface: Typeface): Page {
  const across = width - 2 * MARGIN;
  const notes = [space(CHECK_LINES), ...HOW.map((words) => paragraph(words, across, typeface, { bullet: '–' }))];
  const down = height - 2 * MARGIN - GAP - heightOf(notes);
  // What fits but for a rounding fits.
  const many = (room: number) => Math.floor(room / card + 1e-9);
  return { width, height, columns: many(across), rows: many(down), notes };
}

function pages(side: number, paper: PaperName, typeface: Typeface): readonly [Page, Page] {
  const card = side * (1 + 2 * CARD_MARGIN);
  const { width, height } = PAPERS[paper];
  return [pageOf(card, width, height, typeface), pageOf(card, height, width, typeface)];
}

/** The largest side of which one card fits on this paper, mm, to the whole millimetre. */
export function largestSide(paper: PaperName, typeface: Typeface): number {
  const fits = (side: number) => pages(side, paper, typeface).some(({ columns, rows }) => columns * rows > 0);
  let side = LEAST_SIDE;
  while (fits(side + 1)) side++;
  return side;
}

/**
 * Sheets of cards in true size: every card with its white border, its number, and a line to cut it out by; two check lines and how to lay
 * them on each sheet. The page lies whichever way holds more of them.
 * @throws InputProblem when the side or the count cannot be
 */
export function cardSheets({ side, count, paper, units, typeface }: CardRequest): Sheet[] {
  if (!Number.isInteger(count) || count < 1 || count > MARKER_COUNT) {
    throw new InputProblem(
      `There cannot be ${count} cards.`,
      '/count',
      `Type a whole number from 1 to ${MARKER_COUNT}; four are plenty for one slab.`,
    );
  }
  const length = (mm: number) => formatLength(mm, units, { decimals: 1, unit: true });
  const largest = largestSide(paper, typeface);
  if (!(side >= LEAST_SIDE && side <= largest)) {
    throw new InputProblem(
      `A card with a side of ${length(side)} ${side < LEAST_SIDE ? 'is too small to be read in a photo' : `does not fit on ${paper}`}.`,
      '/side',
      `Choose a side between ${length(LEAST_SIDE)} and ${length(largest)}.`,
    );
  }
  const [upright, lying] = pages(side, paper, typeface);
  const page = lying.columns * lying.rows > upright.columns * upright.rows ? lying : upright;
  const each = page.columns * page.rows;
  const total = Math.ceil(count / each);
  return Array.from({ length: total }, (_, i) => {
    const ids = Array.from({ length: Math.min(each, count - i * each) }, (_, k) => i * each + k);
    return sheetOf(page, ids, side, length(side), i + 1, total);
  });
}

function sheetOf(
  page: Page,
  ids: readonly number[],
  side: number,
  sideText: string,
  number: number,
  total: number,
): Sheet {
  const size = side * (1 + 2 * CARD_MARGIN);
  const left = (page.width - page.columns * size) / 2;
  const cards = ids.flatMap((id, k) =>
    card(id, side, sideText).map((element) =>
      moved(element, left + (k % page.columns) * size, MARGIN + Math.floor(k / page.columns) * size),
    ),
  );
  const y = page.height - MARGIN - heightOf(page.notes);
  const area = { x: MARGIN, y, width: page.width - 2 * MARGIN, height: page.height - MARGIN - y + 1 };
  const notes = flow(page.notes, () => area).pages.flatMap(({ elements }) => elements);
  const which = text([page.width - MARGIN, y + 5.2], `sheet ${number} of ${total}`, { anchor: 'end', ink: 'grey' });
  return {
    name: `cards-${number}`,
    title: `Cards ${ids[0]} to ${ids.at(-1)}, side ${sideText}`,
    width: page.width,
    height: page.height,
    groups: [
      sheetGroup('cards', cards),
      sheetGroup('check lines and how to', [...checkLines(MARGIN, y), ...notes, ...(total > 1 ? [which] : [])]),
    ],
  };
}

/** One card with its cut line, its top left corner at (0, 0). */
function card(id: number, side: number, sideText: string): Element[] {
  const margin = side * CARD_MARGIN;
  const size = side + 2 * margin;
  const cell = side / MARKER_CELLS;
  const light = markerPattern(id);
  const cells: Element[] = [];
  const put = (column: number, row: number, columns: number, rows: number) =>
    cells.push(box(margin + column * cell, margin + row * cell, columns * cell, rows * cell, null, 'paper'));
  // Neighbouring light cells are laid down in one piece, along and across, so that no renderer shows a seam between them.
  for (let line = 0; line < MARKER_CELLS; line++) {
    for (const [from, many] of runsOf((k) => light(k, line))) put(from, line, many, 1);
    for (const [from, many] of runsOf((k) => light(line, k))) put(line, from, 1, many);
  }
  return [
    box(0, 0, size, size, 'offcut'),
    box(margin, margin, side, side, null, 'black'),
    ...cells,
    text([size / 2, size - 1.6], `card ${id}, black square ${sideText}`, {
      size: LABEL,
      anchor: 'middle',
      ink: 'grey',
    }),
  ];
}

/** Stretches of light cells along a line, each as its first cell and how many. */
function runsOf(light: (k: number) => boolean): [from: number, many: number][] {
  const out: [number, number][] = [];
  for (let k = 0; k < MARKER_CELLS; k++) {
    const last = out.at(-1);
    if (!light(k)) continue;
    if (last && last[0] + last[1] === k) last[1]++;
    else out.push([k, 1]);
  }
  return out;
}
