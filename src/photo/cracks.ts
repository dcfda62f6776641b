import { type Point, simplifyLine } from '../geometry';
import type { Darkness } from './dark';
import { patchesOf } from './dark';
import type { ProposedDefect } from './trace-types';

type Crack = Extract<ProposedDefect, { kind: 'crack' }>;
type Place = readonly [x: number, y: number, width: number];

/** Lightness below the wood around it from which a line is a crack, and down to which it is followed: at least so, and so many times the figure. */
const SURE = { least: 17, figure: 7 };
const FAINT = { least: 8, figure: 3.5 };
/** Shorter ones are left to the eye, mm. */
const SHORTEST = 40;
/** A crack is at least this many times as long as wide. */
const SLENDER = 8;
const WIDEST = 9;
/** Pieces in one line are one crack over a gap (a card, a bridge of wood) of this, mm; and they miss each other sideways by this share of it. */
const GAP = 130;
const SIDEWAYS = 0.08;
/** Stations of a centre line, mm. */
const STEP = 4;

/** Cracks as dark lines, tip to tip, with their widths, mm. */
export function findCracks(dark: Darkness): Crack[] {
  const { below, figure, width } = dark;
  const [sure, faint] = [SURE, FAINT].map(({ least, figure: times }) => Math.max(least, times * figure)) as [
    number,
    number,
  ];
  const mask = Uint8Array.from(below, (v) => (v > faint ? 1 : 0));
  const pieces = patchesOf(mask, width).flatMap((patch) => {
    if (!patch.some((i) => (below[i] as number) > sure)) return [];
    const line = centreLine(dark, patch);
    return line && isCrack(line, patch.length * dark.mmPerPx ** 2) ? [line] : [];
  });
  return joined(pieces).flatMap((line) => {
    const length = lengthOf(line);
    if (length < SHORTEST) return [];
    const depth = line.reduce((sum, place) => sum + depthAt(dark, place), 0) / line.length;
    return [
      { kind: 'crack' as const, line: simpler(line), confidence: Math.min(1, Math.max(0.1, depth / (2 * sure))) },
    ];
  });
}

const lengthOf = (line: readonly Place[]): number =>
  line.slice(1).reduce((sum, p, i) => sum + Math.hypot(p[0] - (line[i] as Place)[0], p[1] - (line[i] as Place)[1]), 0);

function isCrack(line: readonly Place[], area: number): boolean {
  const length = lengthOf(line);
  const wide = area / Math.max(1, length);
  return length >= 12 && length >= SLENDER * wide && wide <= WIDEST;
}

function depthAt({ below, width, mmPerPx, x0, y0 }: Darkness, [x, y]: Place): number {
  return below[Math.floor((y - y0) / mmPerPx) * width + Math.floor((x - x0) / mmPerPx)] ?? 0;
}

/** A patch along its own long axis: at each station the middle of its darkness, and as wide a fully dark line as would hold it all. */
function centreLine({ below, width, mmPerPx, x0, y0 }: Darkness, patch: readonly number[]): Place[] | null {
  const at = (i: number): Point<'face'> => [
    x0 + ((i % width) + 0.5) * mmPerPx,
    y0 + (Math.floor(i / width) + 0.5) * mmPerPx,
  ];
  let [mx, my, xx, xy, yy] = [0, 0, 0, 0, 0];
  for (const i of patch) {
    const [x, y] = at(i);
    mx += x / patch.length;
    my += y / patch.length;
  }
  for (const i of patch) {
    const [x, y] = at(i);
    xx += (x - mx) ** 2;
    xy += (x - mx) * (y - my);
    yy += (y - my) ** 2;
  }
  const angle = 0.5 * Math.atan2(2 * xy, xx - yy);
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const stations = new Map<number, { sum: number; across: number; along: number; deepest: number }>();
  for (const i of patch) {
    const [x, y] = at(i);
    const along = (x - mx) * c + (y - my) * s;
    const across = (y - my) * c - (x - mx) * s;
    const k = Math.round(along / STEP);
    const v = below[i] as number;
    const station = stations.get(k) ?? { sum: 0, across: 0, along: 0, deepest: 0 };
    stations.set(k, {
      sum: station.sum + v,
      across: station.across + v * across,
      along: station.along + v * along,
      deepest: Math.max(station.deepest, v),
    });
  }
  const keys = [...stations.keys()].sort((a, b) => a - b);
  if (keys.length < 3) return null;
  return keys.map((k): Place => {
    const { sum, across, along, deepest } = stations.get(k) as NonNullable<ReturnType<typeof stations.get>>;
    const [u, v] = [along / sum, across / sum];
    // A slit narrower than a pixel is less deep than it is dark: its whole darkness over that of an open crack gives its width.
    const wide = (sum * mmPerPx * mmPerPx) / STEP / Math.max(deepest, OPEN);
    return [mx + u * c - v * s, my + u * s + v * c, wide];
  });
}

/** Lightness below the wood around it of an open crack. */
const OPEN = 22;

/** Pieces that follow each other in one line, joined; the longest first takes what fits its ends. */
function joined(pieces: readonly (readonly Place[])[]): Place[][] {
  const open = pieces.map((piece) => [...piece]).sort((a, b) => lengthOf(b) - lengthOf(a));
  const cracks: Place[][] = [];
  for (let crack = open.shift(); crack; crack = open.shift()) {
    for (let again = true; again; ) {
      again = false;
      for (const [i, piece] of open.entries()) {
        const longer = linked(crack, piece);
        if (!longer) continue;
        crack = longer;
        open.splice(i, 1);
        again = true;
        break;
      }
    }
    cracks.push(crack);
  }
  return cracks;
}

/** The two as one where the second begins in the line of the first's end, or the other way about; else null. */
function linked(a: readonly Place[], b: readonly Place[]): Place[] | null {
  const ways: [readonly Place[], readonly Place[]][] = [
    [a, b],
    [b, a],
    [a, [...b].reverse()],
    [[...b].reverse(), a],
  ];
  for (const [first, then] of ways) {
    const end = first.at(-1) as Place;
    const start = then[0] as Place;
    const before = first[Math.max(0, first.length - 9)] as Place;
    const after = then[Math.min(then.length - 1, 8)] as Place;
    const gap = Math.hypot(start[0] - end[0], start[1] - end[1]);
    const room = Math.min(GAP, 0.5 * (lengthOf(a) + lengthOf(b)));
    if (gap > room) continue;
    const heading = Math.atan2(end[1] - before[1], end[0] - before[0]);
    const onward = Math.atan2(after[1] - start[1], after[0] - start[0]);
    const turn = Math.abs(Math.atan2(Math.sin(onward - heading), Math.cos(onward - heading)));
    const [dx, dy] = [start[0] - end[0], start[1] - end[1]];
    const forward = dx * Math.cos(heading) + dy * Math.sin(heading);
    const aside = Math.abs(dy * Math.cos(heading) - dx * Math.sin(heading));
    if (forward > -STEP && aside <= 3 + SIDEWAYS * gap && turn < 0.35) return [...first, ...then];
  }
  return null;
}

/** Fewer places, within half a millimetre; widths are those of the places kept. */
function simpler(line: readonly Place[]): Place[] {
  const kept = new Set(
    simplifyLine(
      line.map(([x, y]): Point<'face'> => [x, y]),
      0.5,
    ).map(([x, y]) => `${x},${y}`),
  );
  return line.filter(([x, y]) => kept.has(`${x},${y}`));
}
