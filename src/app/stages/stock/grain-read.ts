import type { GrainField } from '../../../grain';
import type { Face } from '../../../job';
import type { Trouble } from '../../parts/problem';

/** The grain of the face in view as its picture shows it: being read, read, or why not. */
export interface GrainRead {
  /** The picture and outline that it was read from. */
  readonly of: Pick<Face, 'picture' | 'outline'>;
  readonly field: GrainField | null;
  readonly trouble: Trouble | null;
}
