import { apply, applyAll, bounds, type Polygon } from '../../../geometry';
import type { Placement } from '../../../job';
import { stripMap } from '../../../layout';
import type { BlankReport, TopReport } from '../../../plan';
import { formatLength, type UnitSystem } from '../../../units';
import type { Hatch, Item, XY } from '../../canvas/items';
import type { SeamRun } from './seam-runs';
import { type FaceLooks, roughWood, shifted, topWood, woodItems } from './wood';

const NONE: Pick<TopReport, 'keys' | 'cracks'> = { keys: [], cracks: [] };
/** Room for the dimensions around a top, mm. */
const OFF = 70;
/** The strip that shows how its seam looks: from the front edge to it, and its height, mm. */
const STRIP_OFF = 45;
const STRIP = 50;
/** Blanks are drawn so far apart, mm. */
const APART = 50;

type Lay = (at: XY) => XY;

/** From a top's frame to the sheet: front below, as one stands before it. A half turn, never a mirror. */
export const laidTop =
  ({ size }: Pick<TopReport, 'size'>, y0: number): Lay =>
  ([x, y]) => [size.length - x, y0 + size.depth[1] - y];

/** A finished top as it is now, be its joint in the hand or not. */
export interface TopDrawn {
  readonly top: TopReport;
  readonly placement: Placement;
  readonly outline: Polygon<'top'>;
  /** Whether its joint is in the hand, so that it is painted at every frame. */
  readonly held?: boolean;
}

const line = (
  id: string,
  points: readonly XY[],
  pen: 'ink' | 'faint' | 'measured' | 'joint' | 'cut',
  closed = false,
): Item => ({
  kind: 'line',
  id,
  points,
  pen,
  closed,
});

/** A finished top as its photos show it, and nothing on it but its edge. */
export function bareTopItems({ top, placement, outline, held }: TopDrawn, looks: FaceLooks, y0: number): Item[] {
  const lay = laidTop(top, y0);
  return [
    ...woodItems(topWood(placement, looks, held), top.id, lay),
    line(`${top.id}-outline`, outline.map(lay), 'ink', true),
  ];
}

/** A top's name over it, where more than one is drawn. */
export const topName = ({ id, name, size }: TopReport, y0: number): Item => ({
  ...label(`${id}-name`, [size.length / 2, y0 - 2 * OFF], name),
  pen: 'ink',
});

/** What is drawn on a finished top: cracks and keys, which wait until a joint in the hand is dropped, seams, dimensions. */
export function topMarks({ top, placement, outline, held }: TopDrawn, y0: number, units: UnitSystem): Item[] {
  const { id, size } = top;
  const { keys, cracks } = held ? NONE : top;
  const lay = laidTop(top, y0);
  const say = (mm: number): string => formatLength(mm, units);
  const [least, most] = placement.depth;
  const { minX, maxX, minY, maxY } = bounds(outline.map(lay));
  const right = maxX + OFF;
  return [
    ...cracks
      .filter(({ seam }) => !seam)
      .map((crack) =>
        line(
          `${id}-${crack.id}`,
          crack.line.map(([x, y]) => lay([x, y])),
          'faint',
        ),
      ),
    ...keys.map(
      (key, i): Item => ({
        kind: 'area',
        id: `${id}-key-${i}`,
        points: key.outline.map(lay),
        hatch: 'key',
        pen: 'cut',
      }),
    ),
    ...top.lines.holes.map(({ polygon }, i) => line(`${id}-hole-${i}`, polygon.map(lay), 'cut', true)),
    ...top.lines.scribe.map((scribe, i) => line(`${id}-scribe-${i}`, scribe.map(lay), 'measured')),
    ...top.lines.angles.map(({ at, degrees, side }) =>
      label(`${id}-angle-${side}`, lay([at[0] + (side === 'right' ? OFF : -OFF), at[1] + OFF / 2]), `${degrees}°`),
    ),
    ...seamLines(placement).map(([[ax, ay], [bx, by]], i) =>
      line(`${id}-seam-${i}`, [lay([ax - 25, ay]), lay([bx + 25, by])], 'joint'),
    ),
    line(
      `${id}-along`,
      [
        [minX, minY - OFF],
        [maxX, minY - OFF],
      ],
      'measured',
    ),
    label(`${id}-length`, [(minX + maxX) / 2, minY - OFF], say(size.length)),
    line(
      `${id}-across`,
      [
        [right, minY],
        [right, maxY],
      ],
      'measured',
    ),
    {
      ...label(
        `${id}-depth`,
        [right, (minY + maxY) / 2],
        most - least < 0.5 ? say(most) : `${say(least)}–${say(most)}`,
      ),
      turn: -90,
    },
  ];
}

const label = (id: string, at: XY, text: string): Item & { kind: 'text' } => ({
  kind: 'text',
  id,
  at,
  text,
  pen: 'measured',
  shape: 'bare',
});

/** The seams of a placement in its top. */
function seamLines({ strips }: Placement): (readonly [XY, XY])[] {
  return strips.flatMap((strip) => {
    if (!strip.jointBack) return [];
    const map = stripMap(strip);
    return [[apply(map, strip.jointBack[0]), apply(map, strip.jointBack[1])] as const];
  });
}

const HATCHES: Readonly<Record<string, Hatch>> = {
  disappears: 'none',
  'hard to see': 'hardly',
  shows: 'shows',
  'plain to see': 'plain',
};

/** The strip below a top that shows where its seam can be seen, the darker the plainer; each run has its number. */
export function seamStrip({ top, outline }: TopDrawn, runs: readonly SeamRun[], y0: number): Item[] {
  const edge = bounds(outline.map(laidTop(top, y0))).maxY + STRIP_OFF;
  return runs.flatMap(({ from, to, word }, i): Item[] => [
    {
      kind: 'area',
      id: `${top.id}-run-${i}`,
      points: [
        [from, edge],
        [to, edge],
        [to, edge + STRIP],
        [from, edge + STRIP],
      ],
      hatch: word === null ? 'hidden' : (HATCHES[word] as Hatch),
      pen: 'fine',
    },
    ...(runs.length < 2
      ? []
      : [
          {
            kind: 'text',
            id: `${top.id}-run-${i}-number`,
            at: [(from + to) / 2, edge + STRIP + 50],
            text: `${i + 1}`,
            pen: 'measured',
            shape: 'bare',
            yields: 0,
          } as const,
        ]),
  ]);
}

/** Height that a top takes on the sheet, dimensions and strip included. */
export const topHeight = ({ size, seams }: TopReport): number =>
  size.depth[1] + 2 * OFF + (seams.length > 0 ? STRIP_OFF + STRIP + 40 : 0);

/** The blanks of a top as they come off the slabs, before they are flattened and jointed: what will be left of each is drawn in it. */
export function roughTopItems(
  { top, placement }: TopDrawn,
  blanks: readonly BlankReport[],
  looks: FaceLooks,
  allowance: number,
  y0: number,
  units: UnitSystem,
): Item[] {
  const apart = 2 * allowance + APART;
  const lay = laidTop(top, y0 + (placement.strips.length - 1) * apart);
  const wood = roughWood(placement, looks, apart);
  return placement.strips.flatMap((strip, i): Item[] => {
    const toTop = shifted(stripMap(strip), i * apart);
    const rough = applyAll(toTop, strip.rough).map(lay);
    const finished = applyAll(toTop, strip.finished).map(lay);
    const { minX, maxX, minY, maxY } = bounds(rough);
    const piece = wood[i];
    const thick = roughThickness(blanks.find((blank) => blank.top === top.id && blank.strip === i));
    const say = (mm: number) => formatLength(mm, units, { decimals: 0 });
    const size = `${say(maxX - minX)} × ${say(maxY - minY)}${thick === null ? '' : ` × ${say(thick)} thick`}`;
    return [
      ...(piece ? woodItems([piece], `${top.id}-blank-${i}`, lay) : []),
      { kind: 'line', id: `${top.id}-rough-${i}`, points: rough, closed: true, pen: 'rough' },
      line(`${top.id}-finished-${i}`, finished, 'cut', true),
      label(`${top.id}-size-${i}`, [(minX + maxX) / 2, (minY + maxY) / 2], size),
    ];
  });
}

/** How thick a blank comes off its slab; null without readings. */
export function roughThickness(blank: BlankReport | undefined): number | null {
  return blank?.flattening?.budget.find(({ item }) => item === 'rough')?.mm ?? null;
}

/** Height that the blanks of a top take on the sheet. */
export const roughHeight = ({ size, placement }: TopReport, allowance: number): number =>
  size.depth[1] + (placement.strips.length - 1) * (2 * allowance + APART) + 2 * OFF;
