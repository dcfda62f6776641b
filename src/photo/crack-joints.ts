import type { Turned } from './turned';

/** A place of a crack's centre line in the turned picture, px (1 mm). */
export interface Place {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  /** Share of lightness missing. */
  readonly depth: number;
  readonly sure: boolean;
  /** Drawn over a gap: not seen. */
  readonly bridged: boolean;
}

/** What of a gap is wood in plain sight may be this long, mm, and this share of the two pieces; what a card hides is free, up to HIDDEN. */
const GAP = 60;
const SHARE = 0.4;
const HIDDEN = 250;
/** How far one piece may miss the other's line: so much, and so much of the gap, mm; and the turn between them, radians. */
const ASIDE = 3;
const SLANT = 0.08;
const TURN = 0.45;
/** Length of a piece's end from which its heading is taken, mm. */
const HEADING = 40;

/** Pieces that follow each other in one line joined to whole cracks, the closest first. Each runs towards +x. */
export function joined(pieces: readonly (readonly Place[])[], face: Turned): Place[][] {
  let lines = pieces.map((piece) => [...piece]);
  for (;;) {
    let best: { miss: number; a: Place[]; b: Place[] } | null = null;
    for (const a of lines) {
      for (const b of lines) {
        const miss = a === b ? null : missOf(a, b, face);
        if (miss !== null && (best === null || miss < best.miss)) best = { miss, a, b };
      }
    }
    if (!best) return lines;
    const { a, b } = best;
    lines = [...lines.filter((line) => line !== a && line !== b), bridge(a, b)];
  }
}

/** How badly b carries on a, mm; null where it does not. */
function missOf(a: readonly Place[], b: readonly Place[], { seen, width }: Turned): number | null {
  const [end, start] = [a.at(-1) as Place, b[0] as Place];
  const gap = start.x - end.x;
  if (gap < -ASIDE || gap > GAP + HIDDEN || Math.abs(start.y - end.y) > ASIDE + gap) return null;
  const [before, after] = [headingOf(a.slice(-HEADING)), headingOf(b.slice(0, HEADING))];
  if (Math.abs(Math.atan(after) - Math.atan(before)) > TURN) return null;
  // Each heading alone errs: the middle of both gap ends carried on to its middle.
  const aside = Math.abs(end.y + (before * gap) / 2 - (start.y - (after * gap) / 2));
  if (aside > ASIDE + SLANT * gap) return null;
  let visible = 0;
  for (let k = 1; k < gap; k++) {
    const y = end.y + ((start.y - end.y) * k) / gap;
    visible += seen[Math.floor(y) * width + Math.floor(end.x + k)] ? 1 : 0;
  }
  if (visible > Math.min(GAP, SHARE * (a.length + b.length))) return null;
  return visible + 3 * aside + 0.1 * gap;
}

/** dy/dx of a run of places, by least squares. */
function headingOf(places: readonly Place[]): number {
  const [mx, my] = [mean(places.map(({ x }) => x)), mean(places.map(({ y }) => y))];
  const [xy, xx] = places.reduce(([s, t], { x, y }) => [s + (x - mx) * (y - my), t + (x - mx) ** 2], [0, 0]);
  return xx > 0 ? xy / xx : 0;
}

const mean = (values: readonly number[]): number => values.reduce((sum, v) => sum + v, 0) / values.length;

function bridge(a: readonly Place[], b: readonly Place[]): Place[] {
  const [end, start] = [a.at(-1) as Place, b[0] as Place];
  const gap = Math.round(start.x - end.x);
  const between = Array.from({ length: Math.max(0, gap - 1) }, (_, i): Place => {
    const t = (i + 1) / gap;
    const mix = (p: number, q: number) => p + (q - p) * t;
    return {
      x: mix(end.x, start.x),
      y: mix(end.y, start.y),
      width: mix(end.width, start.width),
      depth: 0,
      sure: false,
      bridged: true,
    };
  });
  return [...a, ...between, ...b.filter(({ x }) => x > end.x)];
}
