import type { Job } from '../job';
import type { SlabReport } from './report';

/** What flattening takes over a whole job. */
export interface SledWork {
  /** Time with the sled, and with other machines, minutes. */
  readonly sled: number;
  readonly machines: number;
  /** Loose chips in litres, and the bags that they fill. */
  readonly chips: number;
  readonly bags: number;
  /** Way of the bit, m, and its part that meets wood: what an edge wears by. */
  readonly metres: number;
  readonly cutting: number;
}

/** Sums over all blanks that have readings. */
export function sledWork(job: Job, slabs: readonly SlabReport[]): SledWork {
  const faces = slabs.flatMap(({ blanks }) => blanks.flatMap(({ flattening }) => flattening?.faces ?? []));
  const onSled = faces.filter(({ tool }) => tool === 'sled');
  const total = (of: typeof faces, key: 'minutes' | 'chips' | 'metres' | 'cutting'): number =>
    of.reduce((sum, face) => sum + face[key], 0);
  const chips = total(faces, 'chips');
  return {
    sled: total(onSled, 'minutes'),
    machines: total(faces, 'minutes') - total(onSled, 'minutes'),
    chips,
    bags: Math.ceil(chips / job.shop.chips.bag - 1e-9),
    metres: total(onSled, 'metres'),
    cutting: total(onSled, 'cutting'),
  };
}
