import { contains, distanceToRing, type Point } from '../geometry';
import type { Slab, Spot } from '../job';
import { Process } from './process';
import { slabReadings } from './slab';
import { tieFaces } from './tie';

/** A reading that looks wrong, or what lacks: what, where, and the mend. */
export interface Question {
  /** The spot; null where the slab as a whole is meant. */
  readonly spot: string | null;
  readonly which: 'top' | 'bottom' | 'thickness' | 'place' | null;
  readonly message: string;
  readonly mend: string;
  /** What was probably meant, mm; null where nobody can tell. */
  readonly instead: number | null;
}

/** Readings farther from what their neighbours say than this many standard deviations, and than this many mm, are questioned (ours). */
const DEVIATIONS = 4.5;
const LEAST_OFF = 4;
/** A slip of the finger is believed where it brings the reading within so many standard deviations. */
const FITS = 2.5;
/** How sure the thickness at a spot is known from the others, mm (practice, no source). */
const THICKNESS_SIGMA = 1.2;
/** Neighbours that a reading is held against: more would say no more. */
const NEIGHBOURS = 40;
/** A spot may stand so far outside the outline, mm: the edge is wane. */
const OUTSIDE = 15;
const INCH = 25.4;

/** Slips of the finger, with what undoes them and how they are asked about. */
const SLIPS: readonly (readonly [undo: (mm: number) => number, says: string])[] = [
  [(mm) => mm * INCH, 'inches typed as millimetres'],
  [(mm) => mm / INCH, 'millimetres typed as inches'],
  [(mm) => -mm, 'up for down'],
  [(mm) => mm * 10, 'a digit left out'],
  [(mm) => mm / 10, 'a digit too many'],
];

/**
 * What to ask of a slab's readings before they are built on. Nothing of it keeps the slab from being reckoned with, and a reading that was
 * told to be right is not asked about again.
 */
export function questions(slab: Slab): Question[] {
  const spots = Object.values(slab.spots);
  return [
    ...spots.flatMap((spot) => placeQuestions(slab, spot)),
    ...spots.flatMap((spot) => upsideDown(slab, spot)),
    ...oddReadings(slab, spots),
    ...lacking(slab, spots),
  ];
}

function placeQuestions({ faces }: Slab, { id, at, sure }: Spot): Question[] {
  const ring = faces.top.outline?.outer;
  if (sure || !ring || contains(ring, at) || distanceToRing(at, ring) <= OUTSIDE) return [];
  return [
    {
      spot: id,
      which: 'place',
      message: `This spot lies ${Math.round(distanceToRing(at, ring))} mm outside the slab.`,
      mend: 'Move it onto the wood.',
      instead: null,
    },
  ];
}

function upsideDown({ heights }: Slab, { id, top, bottom }: Spot): Question[] {
  if (heights === 'apart' || top === null || bottom === null || top > bottom) return [];
  return [
    {
      spot: id,
      which: 'bottom',
      message: `Here the underside stands ${(bottom - top).toFixed(1)} mm over the upper face.`,
      mend: 'Give both heights over one plane, up being more.',
      instead: null,
    },
  ];
}

/** Readings that their neighbours speak against. The worst is asked about first, and left out when the others are looked at. */
function oddReadings(slab: Slab, spots: readonly Spot[]): Question[] {
  const found: Question[] = [];
  const left = new Map(spots.map((spot) => [spot.id, spot]));
  for (let round = 0; round < spots.length / 4; round++) {
    let worst: { question: Question; off: number } | null = null;
    for (const spot of left.values()) {
      if (spot.sure) continue;
      const one = oddAt(slab, spot, [...left.values()]);
      if (one && (!worst || one.off > worst.off)) worst = one;
    }
    if (!worst) break;
    found.push(worst.question);
    left.delete(worst.question.spot as string);
  }
  return found;
}

/** A spot against what its neighbours say without it: the reading of it that strays most, if any strays too far. */
function oddAt(slab: Slab, spot: Spot, all: readonly Spot[]): { question: Question; off: number } | null {
  const others = all
    .filter(({ id }) => id !== spot.id)
    .sort((p, q) => away(p, spot) - away(q, spot))
    .slice(0, NEIGHBOURS);
  const rest = { ...slab, spots: Object.fromEntries(others.map((each) => [each.id, each])) };
  const { top, bottom } = slabReadings(rest);
  if (top.length < 3 || bottom.length < 3 || onOneLine(top.map(({ at }) => at))) return null;
  const process = Process.usual(top, bottom);
  const expected = (face: 'top' | 'bottom') => ({
    z: process.height({ at: spot.at, face }),
    sigma: process.sigma({ at: spot.at, face }),
  });
  const [upper, under] = [expected('top'), expected('bottom')];
  const tie = slab.heights === 'apart' ? tieFaces(rest) : null;
  // The underside read by itself stands upward out of its own plane.
  const lower = tie ? { z: tie.height(spot.at) - under.z, sigma: Math.hypot(under.sigma, tie.sigma(spot.at)) } : under;
  const readings = [
    { which: 'top' as const, value: spot.top, ...upper },
    { which: 'bottom' as const, value: spot.bottom, ...lower },
    { which: 'thickness' as const, value: spot.thickness, z: upper.z - under.z, sigma: THICKNESS_SIGMA },
  ];
  let worst: { question: Question; off: number } | null = null;
  for (const { which, value, z, sigma } of readings) {
    if (value === null) continue;
    const doubt = Math.hypot(sigma, spot.sigma);
    const off = Math.abs(value - z) / doubt;
    if (off < DEVIATIONS || Math.abs(value - z) < LEAST_OFF || (worst && off < worst.off)) continue;
    worst = { question: questionOf(spot.id, which, value, z, doubt), off };
  }
  return worst;
}

const WHAT = { top: 'height', bottom: 'height of the underside', thickness: 'thickness' } as const;

function questionOf(
  spot: string,
  which: 'top' | 'bottom' | 'thickness',
  value: number,
  expected: number,
  sigma: number,
): Question {
  const slip = SLIPS.map(([undo, says]) => ({ meant: undo(value), says }))
    .filter(({ meant }) => Math.abs(meant - expected) < FITS * sigma && (which !== 'thickness' || meant > 0))
    .sort((p, q) => Math.abs(p.meant - expected) - Math.abs(q.meant - expected))[0];
  const about = `Its neighbours make the ${WHAT[which]} here about ${expected.toFixed(0)} mm, and ${value.toFixed(1)} mm was typed.`;
  return {
    spot,
    which,
    message: slip ? `${about} Was it ${slip.says}?` : about,
    mend: slip ? 'Take what was meant, or say that it is right.' : 'Read it again, or say that it is right.',
    instead: slip ? slip.meant : null,
  };
}

/** What the slab as a whole lacks before its thickness can be told. */
function lacking(slab: Slab, spots: readonly Spot[]): Question[] {
  const whole = (message: string, mend: string): Question => ({
    spot: null,
    which: null,
    message,
    mend,
    instead: null,
  });
  if (spots.length === 0) return [];
  const heights = spots.filter(({ top, bottom }) => top !== null || bottom !== null);
  const thick = spots.filter(({ thickness }) => thickness !== null);
  if (slab.warp === null && heights.length > 0 && heights.length < 3)
    return [
      whole(
        `Heights were read at ${heights.length} places only.`,
        'Read a face at three places at least, not on one line.',
      ),
    ];
  if (slab.warp === null && heights.length >= 3 && onOneLine(heights.map(({ at }) => at)))
    return [
      whole(
        'All heights were read along one line, which does not tell how the slab lies across.',
        'Add one beside that line.',
      ),
    ];
  if (slab.heights === 'apart' && (thick.length < 3 || onOneLine(thick.map(({ at }) => at))))
    return [
      whole(
        'Both faces were read by themselves, and fewer than three thicknesses off one line tie them.',
        'Measure the thickness with callipers at three places or more along the edges.',
      ),
    ];
  return [];
}

const away = (p: Spot, q: Spot): number => Math.hypot(p.at[0] - q.at[0], p.at[1] - q.at[1]);

/** Places narrower than this share of their length lie on one line. */
const NARROW = 0.01;

function onOneLine(places: readonly Point<'face'>[]): boolean {
  const [first, ...rest] = places;
  if (!first) return true;
  const reach = ([x, y]: Point<'face'>): number => Math.hypot(x - first[0], y - first[1]);
  const far = rest.reduce((a, b) => (reach(b) > reach(a) ? b : a), first);
  const length = reach(far);
  const beside = ([x, y]: Point<'face'>): number =>
    Math.abs((far[0] - first[0]) * (y - first[1]) - (far[1] - first[1]) * (x - first[0])) / (length || 1);
  return rest.every((p) => beside(p) <= NARROW * length);
}
