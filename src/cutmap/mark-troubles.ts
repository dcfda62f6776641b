import { bounds, contains, distance, distanceToRing, type Polygon, type Region } from '../geometry';
import type { Defect } from '../job';
import { listed } from '../units';
import { type Datum, LONGEST_TAPE } from './datum';
import { LEAST_SHARE, onWoodThroughout } from './marks';

/** What is wrong with two marks, or to be minded: a sentence, and the marks that it is about. */
export interface MarkTrouble {
  readonly kind: 'near' | 'off wood' | 'edge' | 'defect' | 'blank' | 'end' | 'line' | 'long' | 'chalk';
  readonly marks: 'A' | 'B' | 'both';
  /** The marks do not serve as they are; the others are to be minded only. */
  readonly bad: boolean;
  readonly words: string;
}

/** What marks are judged by. */
export interface MarkGround {
  readonly outline: Region<'face'>;
  readonly blanks: readonly {
    readonly name: string;
    readonly rough: Polygon<'face'>;
    readonly finished: Polygon<'face'>;
  }[];
  readonly defects: readonly Defect[];
  readonly cuts: readonly { readonly number: number; readonly kind: string; readonly line: Datum }[];
  /** Points that are to be taped, with their label and whether the two tapes cross too flat there. */
  readonly points: readonly { readonly label: string; readonly flat: boolean; readonly far: number }[];
  readonly drilled: boolean;
}

/** A drill of 4 mm wants this much wood around it, mm (practice). */
const AROUND = 8;

/**
 * What speaks against two marks, worst first: too close, off the wood or in a hole, in a blank, beyond a crosscut, on a line with what they are
 * to find, tapes over 3 m. Empty where they serve. @param say a length in words
 */
export function markTroubles(marks: Datum, ground: MarkGround, say: (mm: number) => string): MarkTrouble[] {
  const found: MarkTrouble[] = [];
  const { outline, points, drilled } = ground;
  const { minX, maxX } = bounds(outline.outer);
  const apart = distance(...marks);
  const least = LEAST_SHARE * (maxX - minX);
  if (apart < least) {
    const words = `A and B lie only ${say(apart)} apart: a millimetre at a mark grows along the slab. Set them at least ${say(least)} apart.`;
    found.push({ kind: 'near', marks: 'both', bad: true, words });
  }
  for (const [name, at] of [
    ['A', marks[0]],
    ['B', marks[1]],
  ] as const) {
    const trouble = (kind: MarkTrouble['kind'], bad: boolean, words: string) =>
      found.push({ kind, marks: name, bad, words });
    if (!contains(outline.outer, at)) {
      trouble('off wood', true, `${name} lies off the wood.`);
      continue;
    }
    if (distanceToRing(at, outline.outer) < AROUND)
      trouble(
        'edge',
        false,
        `${name} lies ${say(distanceToRing(at, outline.outer))} from the wood's edge and may break out.`,
      );
    const soft = ground.defects.find(
      ({ kind, polygon }) => kind !== 'stain' && kind !== 'pith' && polygon && contains(polygon, at),
    );
    const hole = outline.holes.some((ring) => contains(ring, at));
    if (soft || hole) trouble('defect', true, `${name} lies in a ${soft?.kind ?? 'hole'}.`);
    const blank = ground.blanks.find(({ rough }) => contains(rough, at));
    if (blank) {
      const shows = contains(blank.finished, at);
      const how = shows
        ? `${name} lies in ${blank.name}, where its hole would show`
        : `${name} lies in the allowance of ${blank.name}, and goes when that is trimmed`;
      const mend = drilled ? 'Plug it, or move the top under Layout; other marks are offered.' : 'Others are offered.';
      trouble('blank', shows, `${how}. ${shows ? mend : ''}`.trim());
    }
    const cut = blank ? undefined : beyond(at, ground);
    if (cut !== undefined)
      trouble('end', false, `${name} goes with cut ${cut}: mark every line before that cut is made.`);
  }
  const flat = points.filter((point) => point.flat).map(({ label }) => label);
  if (flat.length > 0) {
    const all = flat.length === points.length;
    const words = `${pointsWords(flat)} ${flat.length > 1 ? 'lie' : 'lies'} nearly on a line with A and B: two tapes do not find ${flat.length > 1 ? 'them' : 'it'}, along and in with a square does.`;
    found.push({ kind: 'line', marks: 'both', bad: all, words });
  }
  const far = points.filter((point) => point.far > LONGEST_TAPE).map(({ label }) => label);
  if (far.length > 0)
    found.push({
      kind: 'long',
      marks: 'both',
      bad: false,
      words: `The tape to ${pointsWords(far)} is over ${say(LONGEST_TAPE)}: it sags, and wants two people.`,
    });
  if (!found.some(({ kind }) => kind === 'off wood') && !onWoodThroughout(marks, outline))
    found.push({
      kind: 'chalk',
      marks: 'both',
      bad: false,
      words: 'Chalk snapped from A to B misses the wood in places.',
    });
  return found.sort((p, q) => Number(q.bad) - Number(p.bad));
}

/** The crosscut that parts a place from every blank; undefined where none does. */
function beyond(at: Datum[0], { cuts, blanks }: MarkGround): number | undefined {
  const found = cuts.find(({ kind, line: [a, b] }) => {
    if (kind !== 'crosscut' || blanks.length === 0) return false;
    const side = (p: Datum[0]) => Math.sign((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]));
    const own = side(at);
    return blanks.every(({ rough }) => rough.reduce((sum, p) => sum + side(p), 0) * own < 0);
  });
  return found?.number;
}

const MANY = 6;
/** "1, 2 and 3", and no more than a few. */
function pointsWords(labels: readonly string[]): string {
  if (labels.length > MANY) return `${labels.slice(0, MANY).join(', ')} and ${labels.length - MANY} more points`;
  return `${labels.length === 1 ? 'Point' : 'Points'} ${listed(labels)}`;
}
