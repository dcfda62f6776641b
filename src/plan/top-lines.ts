import { distance, type Point, type Polygon, type Segment } from '../geometry';
import type { Job, Placement, Top } from '../job';
import { depthFinished, limitsOf } from '../layout';
import { formatLength } from '../units';

/** What is drawn in a finished top beside its outline: where it is scribed to, its holes, and the angles of its ends. In the top's frame, mm. */
export interface TopLines {
  /** The finished edges behind which wood is kept for scribing. */
  readonly scribe: readonly Segment<'top'>[];
  /** Depth on the finished face where a live edge slopes, and that is known; else null. */
  readonly finishedDepth: readonly [least: number, most: number] | null;
  readonly holes: readonly { readonly name: string; readonly polygon: Polygon<'top'> }[];
  /** Ends that are not square: the front corner, and the angle inside the top there, degrees. */
  readonly angles: readonly {
    readonly side: 'right' | 'left';
    readonly at: Point<'top'>;
    readonly degrees: number;
  }[];
}

const NOTHING_KEPT = { scribe: { back: 0, right: 0, left: 0 }, wallBow: 0 };

export function topLines(job: Job, top: Top, placement: Placement): TopLines {
  const holes = Object.values(top.cutOuts).map(({ name, polygon }) => ({ name, polygon }));
  const finishedDepth = depthFinished(job, top, placement);
  if (top.shape) return { scribe: [], finishedDepth, holes, angles: [] };
  const finished = limitsOf({ ...top, ...NOTHING_KEPT, front: 'straight', back: 'straight' }, placement.depth[1]);
  const [rightFront, leftFront, leftBack, rightBack] = finished as [
    Point<'top'>,
    Point<'top'>,
    Point<'top'>,
    Point<'top'>,
  ];
  const { ends, scribe, wallBow } = top;
  const sides = [
    [scribe.right, [rightFront, rightBack]],
    [scribe.back + wallBow, [rightBack, leftBack]],
    [scribe.left, [leftFront, leftBack]],
  ] as const;
  const corners = [
    ['right', rightFront],
    ['left', leftFront],
  ] as const;
  return {
    scribe: sides.flatMap(([kept, side]) => (kept > 0 && distance(...side) > 0 ? [side] : [])),
    finishedDepth,
    holes,
    angles: corners.flatMap(([side, at]) => {
      const { edge, degrees } = ends[side];
      return edge === 'live' || degrees === 90 ? [] : [{ side, at, degrees }];
    }),
  };
}

/** What is cut of a top once it is flat, as one says it; nothing of a plain rectangle. */
export function trimWords(top: Top): string[] {
  const { shape, ends, cutOuts } = top;
  const all = [
    ...(shape ? [shape.kind === 'polygon' ? 'cut to its drawn shape' : `cut ${shape.kind}`] : []),
    ...(shape
      ? []
      : (['left', 'right'] as const).flatMap((side) => {
          const { edge, degrees } = ends[side];
          if (edge === 'live') return [`its ${side}-hand end is the slab's own`];
          return degrees === 90 ? [] : [`its ${side}-hand end at ${degrees}° to the front`];
        })),
    ...Object.values(cutOuts).map(({ name }) => `the hole for the ${name.toLowerCase()}`),
  ];
  return all.length > 0 ? [`${top.name}: ${all.join(', ')}.`] : [];
}

/** What is kept of a top for its walls; nothing where none is. */
export function scribeWords(job: Job, top: Top): string[] {
  const { scribe, wallBow } = top;
  const say = (mm: number): string => formatLength(mm, job.units);
  const kept = [
    ['behind its back line', scribe.back + wallBow],
    ['beyond its left-hand end', scribe.left],
    ['beyond its right-hand end', scribe.right],
  ] as const;
  const all = kept.filter(([, mm]) => mm > 0).map(([where, mm]) => `${say(mm)} ${where}`);
  return all.length > 0 ? [`${top.name}: ${all.join(', ')} are there to be cut to the wall.`] : [];
}
