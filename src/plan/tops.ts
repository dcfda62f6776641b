import { ringArea, type Segment } from '../geometry';
import { seamWord } from '../grain';
import { type Job, type Placement, type Plan, type Top, wantedTops } from '../job';
import { topOutline } from '../layout';
import { movement, weight } from '../wood';
import { endCheckNotes } from './end-checks';
import { jointMade } from './joint-made';
import { screwNotes } from './key-screws';
import { keyNotes, keyWork } from './key-work';
import type { TopReport } from './report';
import { topSapwood } from './sapwood';
import { keyedLines, seamsOf } from './top-cracks';
import { keysAsked, keysOnTop } from './top-keys';
import { topLines } from './top-lines';
import { moistureOfTop } from './top-moisture';

const MM3_PER_LITRE = 1e6;

function topReport(job: Job, top: Top, placement: Placement): TopReport {
  const outline = topOutline(placement);
  const species = job.flitches[placement.strips[0]?.flitch ?? '']?.species ?? '';
  const lines = seamsOf(placement);
  const seams = placement.joints.map((joint, i) => ({
    line: lines[i] as Segment<'top'>,
    blend: joint.blend,
    lines: joint.lines,
    word: joint.blend === null ? null : seamWord(joint.blend),
    before: joint.before === true,
    ...jointMade(job, placement, i),
  }));
  const cracks = keyedLines(job, top, placement).map(({ shown }) => shown);
  const placed = keysOnTop(placement, cracks, keysAsked(job, top, placement, cracks));
  const moisture = moistureOfTop(job, placement);
  const holes = Object.values(top.cutOuts).reduce((sum, { polygon }) => sum + ringArea(polygon), 0);
  const [least, most] = placement.depth;
  const size = { length: top.length, depth: [least, most] as const, thickness: top.thickness };
  return {
    id: top.id,
    name: top.name,
    placement,
    outline,
    size,
    seams,
    cracks,
    sapwood: topSapwood(job, top, placement),
    lines: topLines(job, top, placement),
    keys: placed.keys,
    keyWork: keyWork(job, { outline, size, cracks, keys: placed.keys }, [
      ...keyNotes(placed, cracks, moisture),
      ...endCheckNotes(job, placement),
      ...screwNotes(job, { id: top.id, placement, size, keys: placed.keys }),
    ]),
    hold: placed.hold,
    keysRefused: placed.refused.map(({ crack, reason }) => ({ crack: cracks[crack]?.id ?? String(crack), reason })),
    weight: weight({
      species,
      moisture: job.shop.siteMoisture,
      litres: ((ringArea(outline) - holes) * top.thickness) / MM3_PER_LITRE,
    }),
    movement:
      moisture === null
        ? null
        : movement({ species, width: most, from: moisture, to: job.shop.siteMoisture, cut: 'through' }),
  };
}

/** Every top that the plan places, in the order of the job. */
export function topReports(job: Job, plan: Plan): TopReport[] {
  return wantedTops(job).flatMap((top) => {
    const placement = plan.placements[top.id];
    return placement ? [topReport(job, top, placement)] : [];
  });
}
