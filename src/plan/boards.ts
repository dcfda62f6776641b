import type { Job } from '../job';
import {
  boardsToBuy,
  canBePlaned,
  compareWays,
  doorsLost,
  handOut,
  leafLook,
  nextLeaf,
  resawBudget,
  restUse,
  wantedFaces,
} from '../leaves';
import { helpWith, warningOf } from './boards-help';
import { mindOf } from './boards-mind';
import type { BoardReport } from './boards-types';
import { sawBoard, stacksOf } from './sawn-board';

/** Every board resawn by its way of working, and whether its leaves suffice for the doors, board by board in their order. */
export function boardReports(job: Job): BoardReport[] {
  const faces = wantedFaces(Object.values(job.doors));
  const kerf = job.shop.kerf.fine;
  const boards = Object.values(job.boards).map((board) => sawBoard(job, board));
  const stacks = boards.map((each) => each.stacks);
  const handed = handOut(faces, stacks, kerf);
  const given = handed.reduce((sum, each) => sum + each.given, 0);
  return boards.map((each, i): BoardReport => {
    const { board, way, ready, sawn } = each;
    const { wanted, given: gives, used } = handed[i] as (typeof handed)[number];
    const left = faces.slice(faces.length - wanted);
    const all = sawn.leaves * ready.strips.count;
    const counts = compareWays(ready.saw).map(({ way: other, leaves }) => ({
      way: other,
      leaves: leaves * ready.strips.count,
      given: handOut(left, [stacksOf(job, board, ready, leaves)], kerf)[0]?.given ?? 0,
    }));
    const next = canBePlaned(ready.saw, way) ? nextLeaf(ready.saw, way) : null;
    const short = i === boards.length - 1 ? faces.slice(given) : [];
    const { spareLeaves: spare = 1 } = job.shop.resaw;
    const toBuy = boardsToBuy(short, { shop: job.shop, way, spare });
    const facts = {
      wanted,
      given: gives,
      spare: all - used,
      lost: doorsLost(faces, stacks, i, kerf),
      ways: counts,
      next,
      toBuy,
      isLast: i === boards.length - 1,
    };
    return {
      id: board.id,
      name: board.name,
      leaves: all,
      remnant: sawn.rests[0] ?? 0,
      cuts: sawn.cuts.map(({ at }) => at),
      wanted,
      given: gives,
      warning: warningOf(job, each, facts),
      way,
      ready,
      sawn,
      budget: resawBudget(ready, sawn, job.shop.resaw),
      ways: counts,
      next,
      rest: sawn.rests[0] === undefined ? null : restUse(sawn.rests[0], job.shop.resaw),
      look: leafLook(board.ringDegrees ?? []),
      spare: facts.spare,
      lost: facts.lost,
      help: helpWith(job, each, left, facts),
      mind: mindOf(job, each),
      toBuy,
    };
  });
}
