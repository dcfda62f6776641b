import type { StoredFace } from '../../workers/stored-face';
import { leafKey } from '../plan';
import type { JobStore } from './store';

/** The faces of leaves that have a stored picture, of all boards or of one. */
export async function storedLeaves(store: JobStore, only?: string): Promise<StoredFace[]> {
  const faces: StoredFace[] = [];
  for (const board of Object.values(store.job.peek().boards)) {
    if (only !== undefined && board.id !== only) continue;
    for (const leaf of Object.values(board.leaves)) {
      for (const side of ['top', 'bottom'] as const) {
        const { picture } = leaf.faces[side];
        const blob = picture && (await store.file(picture.file));
        if (!picture || !blob) continue;
        const { file, mmPerPx, x0, y0 } = picture;
        faces.push({ key: leafKey(board.id, leaf.id, side), file, blob, mmPerPx, x0, y0 });
      }
    }
  }
  return faces;
}
