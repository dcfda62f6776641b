import { applyAll, type Polygon, ribbon } from '../geometry';
import { checked, type Job, type Placement, type SetKey, type Top } from '../job';
import { type HandKey, type KeysInput, type KeysOutput, keysByHand, keysInput, placeKeys } from '../keys';
import { stripMap, topOutline } from '../layout';
import type { TopReport } from './report';
import { asGiven, defectsOf, keyedLines, seamsOf } from './top-cracks';
import { moistureOfTop } from './top-moisture';

/** Areas of other defects in the top, which keys keep clear of. */
function defectsIn(job: Job, placement: Placement) {
  return placement.strips.flatMap((strip) => {
    const { own, far } = defectsOf(job, strip);
    return [...own.map(({ defect }) => defect), ...far].flatMap(({ kind, polygon }) =>
      polygon ? [{ kind, polygon: applyAll(stripMap(strip), polygon) as Polygon<'top'> }] : [],
    );
  });
}

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

/** What the keys of a planned top are placed by. @param cracks those of the top, from `keyedLines` */
export function keysAsked(job: Job, top: Top, placement: Placement, cracks: TopReport['cracks']): KeysInput {
  const { keyRules, siteMoisture, seasonSwing } = job.shop;
  const now = moistureOfTop(job, placement);
  const book = placement.joints.findIndex(({ made }) => made === 'book');
  const mirror = seamsOf(placement)[book];
  const known = new Map(keyedLines(job, top, placement).map(({ shown, asked }) => [shown.id, asked]));
  return checked(keysInput, {
    ...(keyRules ? { rules: keyRules } : {}),
    ...(mirror ? { mirror } : {}),
    ...(now === null ? {} : { moisture: { now, site: siteMoisture, swing: seasonSwing } }),
    top: { outline: topOutline(placement), thickness: top.thickness },
    cracks: cracks.map(({ id, line, through }) => ({
      line: asGiven(line),
      faces: through ? 'both' : 'top',
      ...known.get(id),
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
