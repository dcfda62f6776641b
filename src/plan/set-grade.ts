import { GRADES, type Job, type PanelSet } from '../job';
import { frontsOf, gradeReport } from '../leaves';
import { benchLeaves } from './bench';
import type { GradeReport } from './set-types';

/** Rings steeper against the face than this, degrees, show as quartered or rift wood (practice). */
const STEEP = 45;

/** A set held against the strictest grade that one of its doors asks for; null where none does. */
export function gradeOf(job: Job, set: PanelSet): GradeReport | null {
  const doors = Object.values(job.doors);
  const grade = GRADES.findLast((one) => doors.some((door) => door.grade === one));
  if (!grade) return null;
  const cut = cutOf(job, set);
  const lines = gradeReport(set, frontsOf(doors), benchLeaves(job, new Map()), {
    grade,
    cut,
    leaf: job.shop.resaw.leaf.thickness,
  });
  return { grade, cut, lines };
}

/** Plain, unless the end grain of every board that is used was read and stands steep. */
function cutOf(job: Job, set: PanelSet): GradeReport['cut'] {
  const boards = new Set(Object.values(set.fronts).flatMap(({ cells }) => cells.map(({ board }) => board)));
  const middle = [...boards].map((id) => job.boards[id]?.ringDegrees?.[1] ?? null);
  return middle.length > 0 && middle.every((degrees) => degrees !== null && degrees > STEEP) ? 'quarter' : 'plain';
}
