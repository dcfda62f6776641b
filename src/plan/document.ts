import type { Segment } from '../geometry';
import type { PlanOutput } from './io';
import type { BlankReport, PlanReport, SlabReport, TopReport } from './report';
import { setDocument } from './set-document';
import { planVersion } from './version';
import type { WoodReport } from './wood-report';

const faceOf = ({ flitch, slab, face }: SlabReport) => ({ flitch, slab, face });

function placementOf({
  id,
  name,
  outline,
  size,
  placement,
  cracks,
  keyWork,
  sapwood,
  lines,
  hold,
  weight,
  movement,
}: TopReport) {
  const strips = placement.strips.map(({ flitch, slab, face, toTop, finished, rough }) => ({
    flitch,
    slab,
    face,
    toTop,
    finished,
    rough,
  }));
  const { length, depth, thickness } = size;
  return {
    top: id,
    name,
    outline,
    length,
    depth,
    thickness,
    gives: placement.thickness,
    strips,
    cracks: cracks.flatMap(({ id, called, seam, line, through, proposed }, i) => {
      const fill = keyWork?.cracks[i]?.fill;
      return seam ? [] : [{ id, called, line, through, proposed, area: fill?.area ?? 0, resin: fill?.litres ?? null }];
    }),
    sapwood,
    scribe: lines.scribe,
    holes: lines.holes,
    hold,
    weight,
    movement,
  };
}

function jointsOf({ id, placement, seams }: TopReport) {
  return placement.joints.map(({ blend, lines, slide, flipped }, i) => {
    const side = (at: number, line: 'jointFront' | 'jointBack') => {
      const strip = placement.strips[at] as (typeof placement.strips)[number];
      return { flitch: strip.flitch, slab: strip.slab, face: strip.face, line: strip[line] };
    };
    const seam = seams[i] as (typeof seams)[number];
    return {
      top: id,
      between: [i, i + 1] as const,
      line: seam.line as Segment<'top'>,
      front: side(i, 'jointBack'),
      back: side(i + 1, 'jointFront'),
      blend,
      lines,
      word: seam.word,
      slide,
      flipped,
    };
  });
}

/** A blank's flattening, its budget apart. */
function apart(flattened: BlankReport['flattening']) {
  if (!flattened) return { budget: null, flattening: null };
  const { id: _, budget, ...flattening } = flattened;
  return { budget, flattening };
}

function pithOf({ blanks }: WoodReport, id: string): 'holds' | 'may hold' | null {
  const pith = blanks.find((blank) => blank.id === id)?.pith;
  return pith ? (pith.sure ? 'holds' : 'may hold') : null;
}

function budgetsOf(slab: SlabReport, wood: WoodReport) {
  return slab.blanks.map(({ id, top, strip, roughSize, finishedSize, wanted, flattening }) => ({
    blank: id,
    ...faceOf(slab),
    top,
    strip,
    roughSize,
    finishedSize,
    wanted,
    pith: pithOf(wood, id),
    ...apart(flattening),
  }));
}

/**
 * What `plan.json` holds (COMMANDS, plan): the report as lists by kind, each line naming the top or slab that it belongs to.
 * @param files names of the files that stand beside it
 */
export function planDocument(report: PlanReport, files: readonly string[]): PlanOutput {
  const { job, plan, tops, slabs, boards, sets, misses, keyBlanks, cost, order, wood, verdict } = report;
  return {
    job: { id: job.id, name: job.name, date: job.date, units: job.units, currency: job.currency },
    plan: { id: plan.id, name: plan.name, version: planVersion(report), waste: plan.waste },
    gap: plan.gap,
    placements: tops.map(placementOf),
    joints: tops.flatMap(jointsOf),
    kerfs: slabs.flatMap((slab) => slab.cuts.map((cut) => ({ ...faceOf(slab), ...cut }))),
    keys: tops.flatMap(({ id, cracks, keys }) =>
      keys.map((key) => ({ ...key, top: id, crack: cracks[key.crack]?.id ?? String(key.crack) })),
    ),
    keyBlanks: keyBlanks.map(({ species, wanted, plan: { uses, short } }) => ({
      species,
      wanted,
      cut: uses.map(({ piece, blanks }) => ({ piece, blanks })),
      short,
    })),
    refused: tops.flatMap(({ id, keysRefused }) => keysRefused.map((refused) => ({ top: id, ...refused }))),
    budgets: slabs.flatMap((slab) => budgetsOf(slab, wood)),
    offcuts: slabs.flatMap((slab) =>
      slab.offcuts.map(({ polygon, area, pieces }) => ({
        ...faceOf(slab),
        polygon,
        rectangle: pieces[0]?.polygon ?? polygon,
        area,
        pieces,
      })),
    ),
    areas: slabs.map((slab) => ({ ...faceOf(slab), ...slab.areas })),
    slabs: slabs.map((slab) => {
      const { name, outline, outlineSigma, price, weight, defects, marks } = slab;
      return { ...faceOf(slab), name, outline, outlineSigma, price, weight, defects, marks };
    }),
    boards: boards.map(({ id, name, leaves, remnant, cuts, wanted, given, warning }) => {
      return { id, name, leaves, remnant, cuts, wanted, given, warning };
    }),
    ...(sets.length > 0 && { sets: sets.map(setDocument) }),
    misses,
    cost,
    order,
    verdict,
    files,
  };
}
