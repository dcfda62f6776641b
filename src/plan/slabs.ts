import { apply, applyAll, contains, invert, ringArea } from '../geometry';
import {
  type FaceName,
  HAND_SIGMA,
  type Job,
  moistureOf,
  type Placement,
  type Plan,
  type Slab,
  type Strip,
  slabsInOrder,
  wantedTop,
} from '../job';
import {
  cutsOf,
  defectArea,
  farLetters,
  leftOver,
  ontoFace,
  reachingDefects,
  reachingName,
  type SawCut,
  sizeAlong,
  stripMap,
} from '../layout';
import type { Memo } from '../surface';
import { formatLength } from '../units';
import { weight } from '../wood';
import { blankThickness, ruledBy } from './flattening';
import { grainOf, offcutReports } from './offcut-report';
import type { BlankReport, Cut, SlabReport, TopReport } from './report';
import { type SlabSurfaces, surfacesOnce } from './slab-surfaces';

const MM3_PER_LITRE = 1e6;
/** A mitre's cut is wider than the saw by more than this, mm. */
const LEANED = 0.1;

/** A strip with the top that it belongs to. */
interface Laid {
  readonly strip: Strip;
  readonly index: number;
  readonly placement: Placement;
}

function blankReport(
  job: Job,
  { strip, index, placement }: Laid,
  surfaces: SlabSurfaces,
  wholes: Map<Slab, number>,
): BlankReport {
  const top = wantedTop(job, placement.top);
  const id = `${placement.top}-${index + 1}`;
  return {
    id,
    top: placement.top,
    topName: top?.name ?? placement.top,
    strip: index,
    rough: strip.rough,
    finished: strip.finished,
    roughSize: sizeAlong(stripMap(strip), strip.rough),
    finishedSize: sizeAlong(stripMap(strip), strip.finished),
    jointFront: strip.jointFront,
    jointBack: strip.jointBack,
    wanted: top?.thickness ?? 0,
    ...(top
      ? blankThickness(job, strip, id, top.thickness, surfaces, wholes)
      : { flattening: null, cutFirst: null, help: null }),
    ruledBy: null,
  };
}

/** Why a cut is made, as one would say it in the shop. */
function reason(job: Job, { kind, stage, parts, kerf }: SawCut): string {
  const say = (mm: number): string => formatLength(mm, job.units);
  if (parts) {
    const leaned = kerf > job.shop.kerf.crosscut + LEANED ? ', the saw leaned to 45°' : '';
    return `last, parts it from the next piece${leaned}: the grain goes on over it`;
  }
  if (kind === 'crosscut') return `to rough length, ${say(job.shop.endAllowance)} over`;
  if (stage === 'rough') return `${say(job.shop.jointAllowance)} wide of the straight edge`;
  return kind === 'joint' ? 'the joint, on the flat blank' : 'to the finished size';
}

function numbered(job: Job, cuts: readonly SawCut[], blanks: readonly BlankReport[]): Cut[] {
  return cuts.map((cut, i) => ({
    number: i + 1,
    kind: cut.kind,
    stage: cut.stage,
    line: cut.line,
    kerf: cut.kerf,
    reason: reason(job, cut),
    blanks: cut.strips.map((strip) => (blanks[strip] as BlankReport).id),
  }));
}

/** Keys of the tops carried back to the slab: each to the strip that its middle lies on. */
function keysOn(laid: readonly Laid[], tops: readonly TopReport[]): SlabReport['keys'] {
  return laid.flatMap(({ strip, placement }) => {
    const top = tops.find(({ id }) => id === placement.top);
    const toFace = invert(stripMap(strip));
    return (top?.keys ?? []).flatMap((key, i) => {
      const [at] = applyAll(toFace, [key.at]);
      if (!at || !contains(strip.finished, at)) return [];
      return [
        {
          outline: applyAll<'top', 'face'>(toFace, key.outline),
          pocket: applyAll<'top', 'face'>(toFace, key.pocket),
          size: key.size,
          top: placement.top,
          number: i + 1,
          proposed: top?.cracks[key.crack]?.proposed ?? false,
        },
      ];
    });
  });
}

function weightOf(
  species: string,
  moisture: number | null,
  area: number,
  thickness: number | null,
): SlabReport['weight'] {
  if (moisture === null || thickness === null) return null;
  return weight({ species, moisture, litres: (area * thickness) / MM3_PER_LITRE });
}

/** The marks in the frame of a face: through the tie of the two faces where they were set on the other one; null where nothing ties them. */
export function marksOn(slab: Slab, side: FaceName): SlabReport['marks'] {
  if (!slab.marks || (slab.marksFace ?? 'top') === side) return slab.marks;
  const map = ontoFace(slab, side);
  return map && [apply(map, slab.marks[0]), apply(map, slab.marks[1])];
}

/** Every slab face that the plan cuts, in sawing order. */
export function slabReports(job: Job, plan: Plan, tops: readonly TopReport[], memo?: Memo): SlabReport[] {
  const surfaces = surfacesOnce(memo);
  const wholes = new Map<Slab, number>();
  const all: Laid[] = Object.values(plan.placements).flatMap((placement) =>
    placement.strips.map((strip, index) => ({ strip, index, placement })),
  );
  const reports = Object.values(job.flitches).flatMap((flitch) =>
    slabsInOrder(flitch).flatMap((slab) =>
      (['top', 'bottom'] as const).flatMap((side) => {
        const face = slab.faces[side];
        const laid = all.filter(
          ({ strip }) => strip.flitch === flitch.id && strip.slab === slab.id && strip.face === side,
        );
        if (laid.length === 0 || !face.outline) return [];
        const blanks = laid.map((piece) => blankReport(job, piece, surfaces, wholes));
        const cuts = cutsOf(
          face.outline,
          laid.map(({ strip }) => strip),
          job.shop,
        );
        const defects = Object.values(face.defects);
        const far = reachingDefects(slab, side);
        const letters = farLetters(slab, side);
        const kept = [...defects, ...far]
          .filter(({ permit }) => permit !== 'allow')
          .flatMap((defect) => defectArea(defect, 0));
        const left = leftOver(face.outline, blanks, cuts, kept);
        const report: SlabReport = {
          flitch: flitch.id,
          slab: slab.id,
          name: slab.name,
          face: side,
          outline: face.outline,
          bark: face.bark,
          grainDegrees: grainOf(face),
          outlineSigma: face.outlineSigma ?? HAND_SIGMA,
          pointSigma: Object.values(face.photos).flatMap(({ calibration }) => calibration?.sigma ?? []),
          price: slab.price,
          weight: weightOf(flitch.species, moistureOf(flitch, slab), ringArea(face.outline.outer), slab.thickness),
          defects,
          farDefects: far.map((defect) => ({
            letter: letters.get(defect.id) ?? '',
            name: reachingName(slab, side, defect),
            defect,
          })),
          blanks,
          cuts: numbered(job, cuts, blanks),
          keys: keysOn(laid, tops),
          offcuts: offcutReports(job, { flitch, slab, face: side }, left, kept, surfaces),
          areas: left.areas,
          marks: marksOn(slab, side),
          ...(slab.drilled && { drilled: true }),
        };
        return [report];
      }),
    ),
  );
  return ruled(reports);
}

/** The blanks with what rules their thickness: both halves of a seamed top finish at that of the thinner one. */
function ruled(slabs: readonly SlabReport[]): SlabReport[] {
  const strips = slabs.flatMap(({ name, blanks }) =>
    blanks.map(({ id, top, cutFirst }) => ({ id, top, name, finished: cutFirst?.both ?? null })),
  );
  return slabs.map((slab) => ({
    ...slab,
    blanks: slab.blanks.map((blank) => ({
      ...blank,
      ruledBy: ruledBy(
        strips.filter(({ top }) => top === blank.top),
        blank.id,
      ),
    })),
  }));
}
