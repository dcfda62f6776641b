import { applyAll, bounds, type Polygon, ringArea } from '../geometry';
import { type Flitch, findSlab, type Job, moistureOf, type Placement, type Slab } from '../job';
import { fromFarFace } from '../layout';
import { type Drying, dryingOf, findSpecies, glueUp, MOISTURE_APART, weight } from '../wood';
import { topFixing } from './key-screws';
import { liftOf } from './lifting';
import { pithHeld } from './pith-held';
import { pithPlace, sawnThickness } from './pith-place';
import type { BlankReport, SlabReport, TopReport } from './report';
import { meetingWords } from './runs';
import type { BlankWood, TopWood, WoodReport } from './wood-report';

const MM3_PER_LITRE = 1e6;

/** Everything that the wood asks for in one plan. @throws InputProblem for an unknown species */
export function woodReport(job: Job, slabs: readonly SlabReport[], tops: readonly TopReport[]): WoodReport {
  const woods = tops.map((top) => topWood(job, top));
  return {
    slabs: slabs.map(({ slab, name, weight }) => ({ slab, name, weight, lift: weight && liftOf(weight.kg) })),
    blanks: slabs.flatMap((report) => report.blanks.map((blank) => blankWood(job, report, blank))),
    tops: woods,
    apart: tops.flatMap((top) => moistureDoubts(job, top.placement)),
    meetings: meetingWords(job, tops, woods),
  };
}

function blankWood(job: Job, report: SlabReport, blank: BlankReport): BlankWood {
  const { flitch, slab } = findSlab(job, report.flitch, report.slab);
  const [moisture, thickness] = [moistureOf(flitch, slab), sawnThickness(slab)];
  const pith = pithHeld(flitch, slab, report.face, blank.rough);
  if (moisture === null || thickness === null) return { id: blank.id, weight: null, lift: null, drying: null, pith };
  const heavy = weight({
    species: flitch.species,
    moisture,
    litres: (ringArea(blank.rough) * thickness) / MM3_PER_LITRE,
  });
  const drying = blankDrying(job, flitch, slab, report.face, blank.rough, moisture, thickness);
  return { id: blank.id, weight: heavy, lift: liftOf(heavy.kg), drying, pith };
}

/** Drying of a blank's section across its slab; a cup is told as it is seen on the face that is up. */
function blankDrying(
  job: Job,
  flitch: Flitch,
  slab: Slab,
  face: 'top' | 'bottom',
  rough: Polygon<'face'>,
  moisture: number,
  thickness: number,
): Drying | null {
  if (face === 'bottom' && !slab.tie) return null;
  const onTop = face === 'bottom' && slab.tie ? applyAll(fromFarFace(slab.tie), rough) : rough;
  const { minY, maxY } = bounds(onTop);
  const pith = pithPlace(flitch, slab);
  const { species } = flitch;
  const dried = dryingOf({
    species,
    from: moisture,
    to: job.shop.siteMoisture,
    width: maxY - minY,
    thickness,
    pith: pith && { y: pith.y - minY, z: pith.z },
  });
  return face === 'top' || dried.cup === null ? dried : { ...dried, cup: -dried.cup };
}

function topWood(job: Job, top: TopReport): TopWood {
  const species = job.flitches[top.placement.strips[0]?.flitch ?? '']?.species ?? '';
  return {
    id: top.id,
    name: top.name,
    weight: top.weight,
    lift: top.weight && liftOf(top.weight.kg),
    fixing: topFixing(job, top),
    glue: top.seams.map((_, i) => {
      const [front, back] = [top.placement.strips[i], top.placement.strips[i + 1]];
      const depths = [front, back].flatMap((strip) => (strip ? [ringArea(strip.finished) / top.size.length] : []));
      return glueUp({
        kind: findSpecies(species).kind,
        length: top.size.length,
        thickness: top.size.thickness,
        headToJoint: Math.min(...depths),
        perClamp: job.shop.clampForce,
      });
    }),
  };
}

/**
 * Strips of one top that are planned to be glued and whose moistures are too far apart: they would part or step at the seam later (practice,
 * no source: 2 %; 3 % makes a step of 0.2-0.3 mm).
 */
export function moistureDoubts(job: Job, placement: Placement): string[] {
  return placement.joints.flatMap((_, i) => {
    const [front, back] = [placement.strips[i], placement.strips[i + 1]];
    if (!front || !back) return [];
    const one = findSlab(job, front.flitch, front.slab);
    const two = findSlab(job, back.flitch, back.slab);
    const [m1, m2] = [moistureOf(one.flitch, one.slab), moistureOf(two.flitch, two.slab)];
    if (m1 === null || m2 === null || Math.abs(m1 - m2) <= MOISTURE_APART) return [];
    return [
      `${one.slab.name} stands at ${m1} % and ${two.slab.name} at ${m2} %. Parts more than ${MOISTURE_APART} % apart are not glued: let the wetter one dry first, or the seam will show a step.`,
    ];
  });
}

/**
 * Said before anything is planned: that slabs of the job are too far apart in moisture to be glued to each other. Null where they are not, or
 * where fewer than two were measured.
 */
export function stockApart(job: Job): string | null {
  const measured = Object.values(job.flitches).flatMap((flitch) =>
    Object.values(flitch.slabs).flatMap((slab) => {
      const moisture = moistureOf(flitch, slab);
      return moisture === null ? [] : [{ name: slab.name, moisture }];
    }),
  );
  const [driest, ...rest] = measured.sort((a, b) => a.moisture - b.moisture);
  const wettest = rest.at(-1);
  if (!driest || !wettest || wettest.moisture - driest.moisture <= MOISTURE_APART) return null;
  return `${driest.name} stands at ${driest.moisture} % and ${wettest.name} at ${wettest.moisture} %: slabs more than ${MOISTURE_APART} % apart are not glued to each other. Measure again when they have lain together.`;
}
