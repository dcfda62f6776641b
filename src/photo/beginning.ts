import type { Point } from '../geometry';
import { InputProblem } from '../units';
import type { LensBelief, Start } from './adjustment';
import { type Mark, type Pose, rigidFit } from './marks';
import type { Reference } from './reference-type';
import { ownFrame, reframed, roughly } from './start';

/** The marks of a photo, and a first guess for them or for some of them, in the frame that the answer will have. */
export interface Beginning {
  readonly marks: readonly Mark[];
  begin(keep: readonly Mark[]): Start;
}

/** Settles which way the reference lies. */
export function beginning(
  { ways, start }: Reference,
  lens: LensBelief,
  drop: number,
  width: number,
  height: number,
): Beginning {
  const guesses = start || ways.length === 1 ? [] : ways.map(({ rough }) => roughly(rough, lens, drop).fit.cost);
  const { marks, rough } = ways[guesses.indexOf(Math.min(...guesses))] ?? (ways[0] as (typeof ways)[number]);
  return {
    marks,
    begin(keep) {
      const kept = <T>(list: readonly T[]) => list.filter((_, i) => keep.some(({ name }) => name === marks[i]?.name));
      if (start) return { ...start, poses: kept(start.poses) };
      const { camera, poses } = roughly(kept(rough), lens, drop);
      return reframed(camera, poses, frameOf(kept(marks), poses, ownFrame(camera, kept(rough), poses, width, height)));
    },
  };
}

/** Where the answer's frame lies in the rough one: that of the known places, or our own where too few are known. */
function frameOf(marks: readonly Mark[], poses: readonly Pose[], own: Pose): Pose {
  const known = marks.flatMap((mark, i) => (mark.known ? [{ to: mark.known.at, from: (poses[i] as Pose).at }] : []));
  const [first] = known;
  if (!first) return own;
  if (known.length === 1) {
    const [c, s] = [Math.cos(own.radians), Math.sin(own.radians)];
    const [x, y] = first.to;
    return { at: [first.from[0] - c * x + s * y, first.from[1] - s * x - c * y], radians: own.radians };
  }
  const theirs = known.map(({ to }) => to);
  const seen = known.map(({ from }) => from);
  const mirrored = theirs.map(([x, y]): Point<'face'> => [x, -y]);
  if (known.length > 2 && misfit(mirrored, seen) < 0.5 * misfit(theirs, seen)) {
    throw new InputProblem(
      'The measured places of the markers are a mirror image of what the photo shows.',
      '/centres',
      'Let y grow clockwise from x as the photo shows it (x to the right, y down), and check which marker is which.',
    );
  }
  return rigidFit(theirs, seen);
}

/** How far points miss others after the best shift and turn, mm (root of the mean of squares). */
function misfit(from: readonly Point<'face'>[], to: readonly Point<'face'>[]): number {
  const { at, radians } = rigidFit(from, to);
  const [c, s] = [Math.cos(radians), Math.sin(radians)];
  const squares = from.map(([x, y], i) => {
    const [tx, ty] = to[i] as Point<'face'>;
    return (at[0] + c * x - s * y - tx) ** 2 + (at[1] + s * x + c * y - ty) ** 2;
  });
  return Math.sqrt(squares.reduce((sum, q) => sum + q, 0) / squares.length);
}
