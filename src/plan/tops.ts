import { applyAll, type Polygon, ribbon, ringArea, type Segment } from '../geometry';
import { seamWord } from '../grain';
import {
  checked,
  type Defect,
  isProposed,
  type Job,
  moistureOf,
  type Placement,
  type Plan,
  type Strip,
  type Top,
  wantedTops,
} from '../job';
import { keysInput, placeKeys } from '../keys';
import { reachingDefects, sameCrack, stripMap, topOutline } from '../layout';
import { movement, weight } from '../wood';
import { clipLine, mapLine } from './clip-line';
import { jointMade } from './joint-made';
import type { TopReport } from './report';
import { topSapwood } from './sapwood';
import { topLines } from './top-lines';

/** Wood kept between a key and a seam, mm (ours). */
const OFF_SEAM = 10;
const MM3_PER_LITRE = 1e6;

/** What a strip holds: the defects of its face, and those of the other face that go through and are not one with one of them. */
function defectsOf(job: Job, { flitch, slab: slabId, face }: Strip): { own: Defect[]; far: Defect[] } {
  const slab = job.flitches[flitch]?.slabs[slabId];
  if (!slab) return { own: [], far: [] };
  const through = reachingDefects(slab, face).filter((defect) => defect.through);
  const own = Object.values(slab.faces[face].defects).map((defect) =>
    through.some((other) => sameCrack(defect, other)) ? { ...defect, through: true } : defect,
  );
  return { own, far: through.filter((defect) => !own.some((near) => sameCrack(near, defect))) };
}

/** The cracks that show in a finished top, in its frame: those that the maker means to key. */
function cracksIn(job: Job, placement: Placement): TopReport['cracks'] {
  return placement.strips.flatMap((strip) => {
    const { own, far } = defectsOf(job, strip);
    const crack = (defect: Defect, mark: string) => {
      if (!defect.line || defect.permit !== 'keyed') return [];
      const pieces = clipLine(defect.line, strip.finished);
      return pieces.map((piece, i) => ({
        id: `${strip.slab}-${defect.id}${mark}${pieces.length > 1 ? `-${i + 1}` : ''}`,
        line: mapLine(stripMap(strip), piece),
        through: defect.through ?? false,
        proposed: isProposed(defect),
      }));
    };
    return [...own.flatMap((defect) => crack(defect, '')), ...far.flatMap((defect) => crack(defect, '′'))];
  });
}

/** Areas of other defects in the top, which keys keep clear of. */
function defectsIn(job: Job, placement: Placement) {
  return placement.strips.flatMap((strip) => {
    const { own, far } = defectsOf(job, strip);
    return [...own, ...far].flatMap(({ kind, polygon }) =>
      polygon ? [{ kind, polygon: applyAll(stripMap(strip), polygon) as Polygon<'top'> }] : [],
    );
  });
}

/** Area-weighted moisture of the slabs that a top is cut from; null where one was not measured. */
function moistureOfTop(job: Job, placement: Placement): number | null {
  let [sum, area] = [0, 0];
  for (const strip of placement.strips) {
    const flitch = job.flitches[strip.flitch];
    const slab = flitch?.slabs[strip.slab];
    const measured = flitch && slab ? moistureOf(flitch, slab) : null;
    if (measured === null) return null;
    sum += measured * ringArea(strip.finished);
    area += ringArea(strip.finished);
  }
  return area === 0 ? null : sum / area;
}

function topReport(job: Job, top: Top, placement: Placement): TopReport {
  const outline = topOutline(placement);
  const species = job.flitches[placement.strips[0]?.flitch ?? '']?.species ?? '';
  const seams = placement.joints.map(({ blend, lines }, i) => {
    const strip = placement.strips[i] as Placement['strips'][number];
    const line = applyAll(stripMap(strip), strip.jointBack ?? []) as unknown as Segment<'top'>;
    return { line, blend, lines, word: blend === null ? null : seamWord(blend), ...jointMade(job, placement, i) };
  });
  const cracks = cracksIn(job, placement);
  const placed = placeKeys(
    checked(keysInput, {
      top: { outline, thickness: top.thickness },
      cracks: cracks.map(({ line, through }) => ({
        line: line.map(([x, y, w]) => [x, y, w]),
        faces: through ? 'both' : 'top',
      })),
      defects: defectsIn(job, placement),
      avoid: [
        ...Object.values(top.covered).map(({ polygon }) => polygon),
        ...Object.values(top.cutOuts).map(({ polygon }) => polygon),
        ...seams.map(({ line: [a, b] }) =>
          ribbon<'top'>(
            [
              [a[0], a[1], 0],
              [b[0], b[1], 0],
            ],
            OFF_SEAM,
          ),
        ),
      ],
      sizes: job.shop.keySizes,
      router: job.shop.router,
      species,
      ...(job.shop.keySpecies === null ? {} : { keySpecies: job.shop.keySpecies }),
    }),
  );
  const moisture = moistureOfTop(job, placement);
  const holes = Object.values(top.cutOuts).reduce((sum, { polygon }) => sum + ringArea(polygon), 0);
  const [least, most] = placement.depth;
  return {
    id: top.id,
    name: top.name,
    placement,
    outline,
    size: { length: top.length, depth: [least, most], thickness: top.thickness },
    seams,
    cracks,
    sapwood: topSapwood(job, top, placement),
    lines: topLines(job, top, placement),
    keys: placed.keys,
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
