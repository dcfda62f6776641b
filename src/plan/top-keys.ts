import { applyAll, type Polygon, ribbon, type Segment } from '../geometry';
import {
  checked,
  type Defect,
  defectLetters,
  isProposed,
  type Job,
  type Placement,
  type SetKey,
  type Strip,
  type Top,
} from '../job';
import { type HandKey, type KeysInput, type KeysOutput, keysByHand, keysInput, placeKeys } from '../keys';
import { farLetters, reachingDefects, sameCrack, stripMap, topOutline } from '../layout';
import { clipLine, mapLine } from './clip-line';
import type { TopReport } from './report';
import { moistureOfTop } from './top-moisture';

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
export const cracksIn = (job: Job, placement: Placement): TopReport['cracks'] =>
  tracedIn(job, placement).map(({ shown }) => shown);

/** A crack as it is reported, with what its keys are placed by besides. */
interface Traced {
  readonly shown: TopReport['cracks'][number];
  readonly depth: NonNullable<KeysInput['cracks'][number]['depth']>;
  /** How the slab, and so its grain, lies in the top: degrees against x. */
  readonly grain: number;
}

function tracedIn(job: Job, placement: Placement): Traced[] {
  return placement.strips.flatMap((strip) => {
    const { own, far } = defectsOf(job, strip);
    const slab = job.flitches[strip.flitch]?.slabs[strip.slab];
    const letters = [
      defectLetters(Object.values(slab?.faces[strip.face].defects ?? {})),
      slab ? farLetters(slab, strip.face) : new Map<string, string>(),
    ] as const;
    const crack = (defect: Defect, mark: string) => {
      if (!defect.line || defect.permit !== 'keyed') return [];
      const pieces = clipLine(defect.line, strip.finished);
      const letter = letters[mark === '' ? 0 : 1].get(defect.id) ?? defect.id;
      const shown = pieces.map((piece, i) => {
        const [dash, part] = pieces.length > 1 ? [`-${i + 1}`, `, part ${i + 1}`] : ['', ''];
        return {
          id: `${strip.slab}-${defect.id}${mark}${dash}`,
          short: `${letter}${part}`,
          called: `${letter} on ${slab?.name ?? strip.slab}${part}`,
          line: leftFirst(mapLine(stripMap(strip), piece)),
          through: defect.through ?? false,
          proposed: isProposed(defect),
        };
      });
      const depth = defect.through === undefined ? 'unknown' : defect.through ? 'through' : 'surface';
      const [a, b] = strip.toTop;
      return shown.map((each): Traced => ({ shown: each, depth, grain: (Math.atan2(b, a) * 180) / Math.PI }));
    };
    return [...own.flatMap((defect) => crack(defect, '')), ...far.flatMap((defect) => crack(defect, '′'))];
  });
}

/** A line from its left end to its right one, as one stands before the top: x runs from right to left there. */
const leftFirst = <P extends readonly [x: number, ...rest: number[]]>(line: readonly P[]): readonly P[] =>
  (line[0]?.[0] ?? 0) < (line.at(-1)?.[0] ?? 0) ? [...line].reverse() : line;

/** Areas of other defects in the top, which keys keep clear of. */
function defectsIn(job: Job, placement: Placement) {
  return placement.strips.flatMap((strip) => {
    const { own, far } = defectsOf(job, strip);
    return [...own, ...far].flatMap(({ kind, polygon }) =>
      polygon ? [{ kind, polygon: applyAll(stripMap(strip), polygon) as Polygon<'top'> }] : [],
    );
  });
}

/** The seams of a top in its frame, from front to back. */
export const seamsOf = ({ strips }: Placement): Segment<'top'>[] =>
  strips.flatMap((strip) =>
    strip.jointBack ? [applyAll(stripMap(strip), strip.jointBack) as unknown as Segment<'top'>] : [],
  );

/** A seam has no width of its own; so thin, mm, is the area that stands for it. */
const HAIR = 0.01;

/** What keys keep clear of besides defects, each by its own rule and with what one calls it. */
function keptOff(top: Top, placement: Placement): KeysInput['keepOff'] {
  return [
    ...Object.values(top.covered).map(({ polygon }) => ({ kind: 'covered' as const, polygon })),
    ...Object.values(top.cutOuts).map(({ name, polygon }) => ({
      kind: 'cut-out' as const,
      name: `the cut-out for ${name}`,
      polygon,
    })),
    ...seamsOf(placement).map(([a, b]) => ({
      kind: 'seam' as const,
      polygon: ribbon<'top'>(
        [
          [a[0], a[1], 0],
          [b[0], b[1], 0],
        ],
        HAIR,
      ),
    })),
  ];
}

/** What the keys of a planned top are placed by. @param cracks those of the top, from `cracksIn` */
export function keysAsked(job: Job, top: Top, placement: Placement, cracks: TopReport['cracks']): KeysInput {
  const { keyRules, siteMoisture, seasonSwing } = job.shop;
  const now = moistureOfTop(job, placement);
  const book = placement.joints.findIndex(({ made }) => made === 'book');
  const mirror = seamsOf(placement)[book];
  const traced = new Map(tracedIn(job, placement).map(({ shown, ...rest }) => [shown.id, rest]));
  return checked(keysInput, {
    ...(keyRules ? { rules: keyRules } : {}),
    ...(mirror ? { mirror } : {}),
    ...(now === null ? {} : { moisture: { now, site: siteMoisture, swing: seasonSwing } }),
    top: { outline: topOutline(placement), thickness: top.thickness },
    cracks: cracks.map(({ id, line, through }) => ({
      line: line.map(([x, y, w]) => [x, y, w]),
      faces: through ? 'both' : 'top',
      ...traced.get(id),
    })),
    defects: defectsIn(job, placement),
    keepOff: keptOff(top, placement),
    sizes: job.shop.keySizes,
    router: job.shop.router,
    units: job.units,
    species: job.flitches[placement.strips[0]?.flitch ?? '']?.species ?? '',
    ...(job.shop.keySpecies === null ? {} : { keySpecies: job.shop.keySpecies }),
  });
}

/** The keys of a planned top: where the maker set them, else where they are proposed. */
export const keysOnTop = ({ keys }: Placement, cracks: TopReport['cracks'], input: KeysInput): KeysOutput =>
  keys ? keysByHand(input, keysInHand(keys, cracks)) : placeKeys(input);

/** Keys that the maker set, each with its crack by its place; those of a crack that is no more are left out. */
export const keysInHand = (set: readonly SetKey[], cracks: TopReport['cracks']): HandKey[] =>
  set.flatMap(({ crack, ...key }) => {
    const index = cracks.findIndex(({ id }) => id === crack);
    return index < 0 ? [] : [{ crack: index, ...key }];
  });
