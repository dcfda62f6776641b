import type { Door } from '../../../job';
import type { JobStore } from '../../store';

/** What the cards of a door need to change it. */
export interface DoorEditing {
  store: JobStore;
  door: Door;
  /** One step that can be undone. */
  edit(name: string, change: (own: Door) => void): void;
}
