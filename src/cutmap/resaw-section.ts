import type { Bounds, Point } from '../geometry';
import type { BoardReport } from '../plan';
import { box, type Element, type Group, path, ring, text } from './drawing';

/** Room beside the section for the numbers of leaves and of cuts, mm. */
const BESIDE = 30;
/** Over the section and below it, for the names of the faces, mm. */
const [OVER, BELOW] = [4.5, 5];
/** Most height that a section takes of its page, mm: so thick a board is drawn in true size. */
const MOST = 100;
/** Hatch of the rest, mm apart. */
const HATCH = 3;

/** Height that the section of a board wants on its page, mm. */
export const sectionHeight = ({ ready }: Pick<BoardReport, 'ready'>): number =>
  Math.min(MOST, Math.max(30, ready.flat) + OVER + BELOW + 2);

/**
 * A strip of the board from its end, its thickness down the page and to scale, the outer face above; its width is broken off where the page is too
 * narrow. Leaves are numbered at the left from the outer face, cuts at the right in the order of work.
 */
export function resawSection(
  { ready, sawn }: BoardReport,
  area: Bounds,
): { readonly groups: readonly Group[]; readonly scale: number } {
  const { flat, strips, saw } = ready;
  const scale = Math.max(1, Math.ceil(flat / (area.maxY - area.minY - OVER - BELOW) - 1e-9));
  const room = area.maxX - area.minX - 2 * BESIDE;
  const width = Math.min(strips.width / scale, room);
  const [x, y] = [area.minX + BESIDE, area.minY + OVER];
  const down = (mm: number): number => y + mm / scale;
  const layers = sawn.slices.flatMap(({ what, from, to }): Element[] => {
    const [top, high] = [down(from), (to - from) / scale];
    switch (what) {
      case 'kerf':
        return [box(x, top, width, Math.max(0.15, high), null, 'pencil')];
      case 'leaf':
        return [box(x, top, width, high, 'rule')];
      case 'rest':
        return [box(x, top, width, high, 'rule'), ...hatched(x, top, width, high)];
      default:
        return [box(x, top, width, high, null, 'grey')];
    }
  });
  const whole = strips.width / scale <= room;
  const [right, foot] = [x + width, down(flat)];
  const torn = whole ? [] : tear(right, y, foot);
  const ends: Element[] = [
    // What the break leaves out is wiped off.
    ...(whole ? [] : [ring([...torn, [right + 1.5, foot + 0.5], [right + 1.5, y - 0.5]], null, 'paper')]),
    path(
      [
        [right, y],
        [x, y],
        [x, foot],
        [right, foot],
      ],
      'outline',
    ),
    path(
      whole
        ? [
            [right, y],
            [right, foot],
          ]
        : torn,
      'outline',
    ),
  ];
  const words: Element[] = [
    text([x, y - 1.4], 'outer face', { ink: 'grey' }),
    text([x, foot + 3.8], whole ? 'back' : 'back; its width is broken off', { ink: 'grey' }),
  ];
  const leaves = sawn.slices
    .filter(({ what }) => what === 'leaf')
    .map(({ from, to }, i) => ({ words: `leaf ${i + 1}`, y: down((from + to) / 2) }));
  const cuts = [...sawn.cuts]
    .sort((one, other) => one.at - other.at)
    .map(({ number, at }) => ({ words: `cut ${number}`, y: down(at + saw.kerf / 2) }));
  const within = [area.minY, area.maxY] as const;
  return {
    scale,
    groups: [
      { layer: 'OUTLINE', name: 'end of the board', elements: [...layers, ...ends] },
      {
        layer: 'MEASURE',
        name: 'labels',
        elements: [...words, ...named(leaves, x - 0.5, 'end', within), ...named(cuts, right + 2, 'start', within)],
      },
    ],
  };
}

/** Least distance between the middles of two labels, and how far beside the section they stand, mm. */
const [PITCH, ASIDE] = [3.7, 9];

/** Names of layers from top to bottom beside the section, spread so that none covers another, each with a leader; every so many where there is no room. */
function named(
  layers: readonly { readonly words: string; readonly y: number }[],
  x: number,
  anchor: 'start' | 'end',
  [top, bottom]: readonly [number, number],
): Element[] {
  const every = Math.ceil((layers.length * PITCH) / (bottom - top));
  const shown = layers.filter((_, i) => i % every === 0 || i === layers.length - 1);
  const places: number[] = [];
  for (const { y } of shown) places.push(Math.max(y, (places.at(-1) ?? top - PITCH / 2) + PITCH));
  for (let i = places.length - 1, most = bottom - PITCH / 2; i >= 0; i--, most -= PITCH)
    places[i] = Math.min(places[i] as number, most);
  const out = x + (anchor === 'start' ? ASIDE : -ASIDE);
  return shown.flatMap(({ words, y }, i) => {
    const at = places[i] as number;
    return [
      path(
        [
          [x, y],
          [out, at],
        ],
        'rule',
      ),
      text([out + (anchor === 'start' ? 0.8 : -0.8), at + 1.25], words, { anchor }),
    ];
  });
}

/** The line along which a section is broken off. */
function tear(x: number, top: number, bottom: number): Point<'paper'>[] {
  const steps = 6;
  return Array.from({ length: steps + 1 }, (_, i) => [
    x + (i === 0 || i === steps ? 0 : i % 2 === 1 ? 1.2 : -1.2),
    top + ((bottom - top) * i) / steps,
  ]);
}

/** Slanting lines over a box. */
function hatched(x: number, y: number, width: number, height: number): Element[] {
  const lines: Element[] = [];
  for (let at = x - height + HATCH; at < x + width; at += HATCH) {
    const [from, to] = [Math.max(x, at), Math.min(x + width, at + height)];
    if (to - from > 0.1)
      lines.push(
        path(
          [
            [from, y + height - (from - at)],
            [to, y + height - (to - at)],
          ],
          'hatch',
        ),
      );
  }
  return lines;
}
