import { finishedThickness, thicknessOfBlank } from '../flattening';
import { applyAll, ringArea } from '../geometry';
import { findSlab, type Job, type Placement, type Plan, wantedTops } from '../job';
import {
  cutsOf,
  defectArea,
  flatteningShop,
  fromFarFace,
  isUnseen,
  jobWith,
  type Looked,
  leftOver,
  offcutsOf,
  planValue,
  reachingDefects,
  surfacesOf,
  topsHad,
  type YardAim,
  type YardBound,
} from '../layout';

/** What a set of slabs that was laid out gives: plain data, for the words on it (yard-report.ts). Lengths in mm, areas in mm2. */
export interface YardLook extends Looked {
  readonly tops: readonly YardTop[];
  /** Clear rectangles worth keeping, the largest first. */
  readonly offcuts: readonly { readonly slab: string; readonly length: number; readonly width: number }[];
  /** Area of the tops that are had. */
  readonly finished: number;
}

export interface YardTop {
  readonly id: string;
  readonly name: string;
  /** Of a top that is had, or comes out too thin. */
  readonly size: { readonly length: number; readonly depth: readonly [number, number] };
  readonly wanted: number;
  /** Finished thickness and its two standard deviations; null where the slabs tell none. */
  readonly gives: { readonly thickness: number; readonly plusMinus: number } | null;
  readonly had: boolean;
  /** Blend of each seam; null where no picture tells, or nobody has looked at it yet. */
  readonly seams: readonly (number | null)[];
  /** Whether there are pictures of a seam that nobody has looked at yet. */
  readonly unseen: boolean;
  /** Chance that it fits, whatever the ± of the outlines. */
  readonly chance: number;
}

/**
 * The facts of one set by the best plan for it.
 * @param slabs slabKey of all that the plan may use, those that are owned too
 * @param seen whether its seams were looked for in the pictures
 */
export function yardLook(
  job: Job,
  plan: Plan,
  aim: YardAim,
  slabs: readonly string[],
  bound: YardBound,
  seen: boolean,
): YardLook {
  const rack = jobWith(job, slabs);
  const { chances, ...worth } = planValue(job, plan, aim, slabs, bound);
  const had = topsHad(job, plan);
  const tops = wantedTops(job).flatMap((top): YardTop[] => {
    const placement = plan.placements[top.id];
    if (!placement) return [];
    return [
      {
        id: top.id,
        name: top.name,
        size: { length: top.length, depth: placement.depth },
        wanted: top.thickness,
        gives: thicknessOf(rack, placement),
        had: had.includes(top.id),
        seams: placement.joints.map(({ blend }) => blend),
        unseen: isUnseen(rack, placement),
        chance: chances[top.id] ?? 0,
      },
    ];
  });
  const finished = had.reduce((sum, id) => sum + areaOf(plan.placements[id] as Placement), 0);
  const open = !seen && bound.tops.some((id) => !had.includes(id)) && arePictured(rack);
  const most = open ? Math.max(worth.most, bound.most) : worth.most;
  return { plan, ...worth, most, seen, tops, offcuts: offcutsIn(rack, plan), finished };
}

/** Whether a seam could be looked for in pictures: that finds places where a search by shape, which tries few, finds none. */
const arePictured = ({ flitches }: Job): boolean =>
  Object.values(flitches)
    .flatMap(({ slabs }) => Object.values(slabs))
    .filter(({ faces }) => faces.top.picture !== null || faces.bottom.picture !== null).length > 1;

const areaOf = ({ strips }: Placement): number => strips.reduce((sum, { finished }) => sum + ringArea(finished), 0);

/** The thinnest strip's finished thickness with its doubt. */
function thicknessOf(job: Job, { strips, thickness }: Placement): YardTop['gives'] {
  if (thickness === null) return null;
  let thinnest = { thickness: Infinity, plusMinus: 0 };
  for (const strip of strips) {
    const { flitch, slab } = findSlab(job, strip.flitch, strip.slab);
    const faces = surfacesOf(slab);
    if (!faces) return null;
    const far = strip.face === 'bottom' && slab.tie ? fromFarFace(slab.tie) : null;
    const { thickest, sigma } = thicknessOfBlank(faces, far ? applyAll(far, strip.rough) : strip.rough);
    const own = finishedThickness(thickest, flatteningShop(flitch, slab, job.shop));
    if (own < thinnest.thickness) thinnest = { thickness: own, plusMinus: 2 * sigma };
  }
  return { thickness, plusMinus: thinnest.plusMinus };
}

/** What is left of the slabs that the plan cuts, and of those that it does not touch. */
function offcutsIn(job: Job, plan: Plan): YardLook['offcuts'] {
  const strips = Object.values(plan.placements).flatMap((placement) => placement.strips);
  const left = Object.values(job.flitches).flatMap((flitch) =>
    Object.values(flitch.slabs).flatMap((slab) => {
      const own = strips.filter((strip) => strip.flitch === flitch.id && strip.slab === slab.id);
      const face = own[0]?.face ?? 'top';
      const { outline, defects } = slab.faces[face];
      if (!outline || own.length === 0) return [];
      const kept = [...Object.values(defects), ...reachingDefects(slab, face)].filter(
        ({ permit }) => permit !== 'allow',
      );
      const forbidden = kept.flatMap((defect) => defectArea(defect, 0));
      const left = leftOver(outline, own, cutsOf(outline, own, job.shop), forbidden);
      return offcutsOf(left, forbidden, job.shop.kerf.rip).flatMap(({ pieces }) =>
        pieces.map(({ size: [length, width] }) => ({ slab: slab.name, length, width })),
      );
    }),
  );
  return left.sort((a, b) => b.length * b.width - a.length * a.width);
}
