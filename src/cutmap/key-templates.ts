import { bounds, type Point, type Polygon } from '../geometry';
import { type InlayPair, keyOutline, waistOf } from '../keys';
import type { KeyWork, SizeWork } from '../plan';
import type { Work } from '../wood';
import { moved } from './blocks';
import { circle, type Element, type Group, type Layer, path, ring, text } from './drawing';
import { hatchLines } from './linework';
import { lengthsOf, type SheetRequest } from './request';
import { type TrueSize, tileGrid } from './tiles';

/** Paper keys, pockets and router templates in full size: one set for each key size that a top uses. */

export const TEMPLATE_WORKS: readonly Work[] = ['router template', 'chisel', 'dust'];
const GAP = 8;
const LINE = 4.2;

/** One drawing with words over it, its middle at the origin. */
interface Item {
  readonly name: string;
  readonly words: readonly string[];
  readonly reach: Polygon<'top'>;
  readonly parts: readonly (readonly [layer: Layer, elements: readonly Element[]])[];
}

/** An item with the room that it takes, from its upper left corner. */
interface Sized {
  readonly width: number;
  readonly height: number;
  readonly groups: readonly Group[];
}

/** A top's items, set in rows no wider than a sheet and no more of them to a sheet than it holds; one larger than a sheet has one for itself. */
export function templatePages(request: SheetRequest, { sizes }: KeyWork): TrueSize[] {
  const { tile } = tileGrid({ width: 0, height: 0 }, request, TEMPLATE_WORKS);
  const pages: (TrueSize & { groups: Group[] })[] = [];
  let [x, y, rowHeight] = [0, 0, 0];
  for (const one of sizes.flatMap((work) => itemsOf(request, work)).map((item) => sized(request, item))) {
    if (x > 0 && x + one.width > tile.width) [x, y, rowHeight] = [0, y + rowHeight + GAP, 0];
    const full = y + one.height > tile.height && (x > 0 || y > 0);
    if (full) [x, y, rowHeight] = [0, 0, 0];
    const page = full || pages.length === 0 ? { width: 0, height: 0, groups: [] } : (pages.pop() as (typeof pages)[0]);
    rowHeight = Math.max(rowHeight, one.height);
    page.groups.push(...one.groups.map((group) => shifted(group, x, y)));
    x += one.width + GAP;
    pages.push({ ...page, width: Math.max(page.width, x - GAP), height: y + rowHeight });
  }
  return pages;
}

/** The same on one sheet as large as it must be, for a drawing file; null where the top has no key. */
export function templatesTogether(request: SheetRequest, work: KeyWork): TrueSize | null {
  const pages = templatePages(request, work);
  if (pages.length === 0) return null;
  let height = -GAP;
  const groups = pages.flatMap((page) => {
    const y = height + GAP;
    height = y + page.height;
    return page.groups.map((group) => shifted(group, 0, y));
  });
  return { width: Math.max(...pages.map(({ width }) => width)), height, groups };
}

const shifted = (group: Group, dx: number, dy: number): Group => ({
  ...group,
  elements: group.elements.map((element) => moved(element, dx, dy)),
});

/** An item with its words over it. */
function sized({ typeface }: SheetRequest, { name, words, reach, parts }: Item): Sized {
  const { minX, maxX, minY, maxY } = bounds(reach);
  const head = words.length * LINE + 2;
  const captions: Group = {
    layer: 'MEASURE',
    name,
    elements: words.map((line, i) => text([2, 3 + i * LINE], line, { bold: i === 0 })),
  };
  const drawn = parts.map(([layer, elements]) => shifted({ layer, name, elements }, 2 - minX, head + 1 - minY));
  const widest = Math.max(maxX - minX, ...words.map((line, i) => typeface.measure(line, 2.5, i === 0)));
  return { width: widest + 4, height: maxY - minY + head + 3, groups: [...drawn, captions] };
}

function itemsOf(request: SheetRequest, work: SizeWork): Item[] {
  return [
    paperKey(request, work),
    ...(work.template.follows ? [pocketTemplate(request, work)] : []),
    ...(work.inlay && work.inlay.problems.length === 0 ? [inlayTemplate(request, work, work.inlay)] : []),
  ];
}

/** A ring of the key's own frame on paper: both have their origin at its middle, and a key is alike on both sides of its axes. */
const onPaper = (points: Polygon<'top'>): Point<'paper'>[] => points.map(([x, y]) => [x, y]);

/** Axis and waist, crossing in the middle and reaching over what is drawn. */
function centreLines(reach: Polygon<'top'>): Element[] {
  const { minX, maxX, minY, maxY } = bounds(reach);
  return [
    path(
      [
        [minX - 1.5, 0],
        [maxX + 1.5, 0],
      ],
      'measure',
    ),
    path(
      [
        [0, minY - 1.5],
        [0, maxY + 1.5],
      ],
      'measure',
    ),
  ];
}

/** Half the room of the word in the arrow along the grain, mm. */
const WORD = 6.5;

/** An arrow along the grain, off the axis, the word in its middle. */
function grainArrow({ size: { length, waist } }: SizeWork): Element[] {
  const [reach, y] = [length * 0.32, waist * 0.28];
  const half = (way: number): Element[] => [
    path(
      [
        [way * WORD, y],
        [way * reach, y],
      ],
      'frame',
    ),
    path(
      [
        [way * (reach - 2.5), y - 1.2],
        [way * reach, y],
        [way * (reach - 2.5), y + 1.2],
      ],
      'frame',
    ),
  ];
  return [...half(1), ...half(-1), text([0, y + 0.9], 'grain', { anchor: 'middle' })];
}

function paperKey(request: SheetRequest, work: SizeWork): Item {
  const { size, count } = work;
  const { at } = lengthsOf(request.report);
  const reach = keyOutline(size);
  return {
    name: `key ${size.id}`,
    words: [`${size.id}: paper key, ${count} wanted`, `${at(size.length)} × ${at(size.end)}, waist ${at(size.waist)}`],
    reach,
    parts: [
      ['KEY', [ring(onPaper(reach), 'pocket')]],
      ['MEASURE', [...centreLines(reach), ...grainArrow(work)]],
    ],
  };
}

function pocketTemplate(request: SheetRequest, work: SizeWork): Item {
  const { size, template, depths } = work;
  const { bushing, bit } = request.job.shop.router;
  const { at } = lengthsOf(request.report);
  const { maxX, maxY } = bounds(template.opening);
  const [x, y] = template.inCorner;
  return {
    name: `template ${size.id}`,
    words: [
      `${size.id}: template and pocket, ${depths.map(at).join(' and ')} deep`,
      `opening ${at(2 * maxX)} × ${at(2 * maxY)}, waist ${at(waistOf(template.opening))}`,
      `bushing ${at(bushing)}, bit ${at(bit)}; hatched: the chisel's`,
    ],
    reach: template.opening,
    parts: [
      ['TEMPLATE', [ring(onPaper(template.opening), 'template')]],
      ['POCKET', [ring(onPaper(template.routed), 'pocket')]],
      [
        'CHISEL',
        template.chisel.flatMap((corner) => [
          ring(onPaper(corner), 'defect', 'pale'),
          ...hatchLines([onPaper(corner)], 45, 0.8),
        ]),
      ],
      [
        'MEASURE',
        [...centreLines(template.opening), circle([x, y], bushing / 2, 'measure'), circle([x, y], bit / 2, 'measure')],
      ],
    ],
  };
}

function inlayTemplate(request: SheetRequest, { size }: SizeWork, { opening, key, routed }: InlayPair): Item {
  const { bushing, bit, collar = 0 } = request.job.shop.router;
  const { at } = lengthsOf(request.report);
  const { maxX, maxY } = bounds(opening);
  return {
    name: `inlay template ${size.id}`,
    words: [
      `${size.id}: one template for key and pocket`,
      `opening ${at(2 * maxX)} × ${at(2 * maxY)}, waist ${at(waistOf(opening))}`,
      `bit ${at(bit)}; key: bushing ${at(bushing)}, pocket: collar ${at(collar)}`,
    ],
    reach: opening,
    parts: [
      ['TEMPLATE', [ring(onPaper(opening), 'template')]],
      ['KEY', [ring(onPaper(key), 'offcut')]],
      ['POCKET', [ring(onPaper(routed), 'pocket')]],
      ['MEASURE', centreLines(opening)],
    ],
  };
}
