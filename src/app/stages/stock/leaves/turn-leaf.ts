import type { FaceName, Picture } from '../../../../job';
import { turnedPicture, turnFace } from '../../../../plan';
import { newId } from '../../../jobs';
import type { JobStore } from '../../../store';

/** Turns leaves end for end that were photographed the other way round, as one step that can be undone. */
export async function turnLeaves(store: JobStore, board: string, ids: readonly string[]): Promise<void> {
  const files = new Map<string, Blob>();
  const pictures = new Map<string, Picture>();
  for (const id of ids) {
    for (const name of ['top', 'bottom'] as const satisfies readonly FaceName[]) {
      const face = store.job.peek().boards[board]?.leaves[id]?.faces[name];
      const blob = face?.picture && (await store.file(face.picture.file));
      const turned = blob && (await turnedByHalf(blob));
      if (!face?.picture || !turned) continue;
      const file = `faces/${board}-${name}-${newId()}.jpg`;
      files.set(file, turned);
      pictures.set(`${id} ${name}`, { ...turnedPicture(face, face.picture), file });
    }
  }
  await store.editWithFiles(
    files,
    ids.length === 1 ? 'Turn a leaf end for end' : 'Turn leaves end for end',
    (draft) => {
      for (const id of ids) {
        const leaf = draft.boards[board]?.leaves[id];
        if (!leaf) continue;
        for (const name of ['top', 'bottom'] as const)
          turnFace(leaf.faces[name], pictures.get(`${id} ${name}`) ?? null);
      }
    },
  );
}

/** A picture turned by half; null where it cannot be read. */
async function turnedByHalf(blob: Blob): Promise<Blob | null> {
  const bitmap = await createImageBitmap(blob).catch(() => null);
  if (!bitmap) return null;
  const { width, height } = bitmap;
  const canvas = Object.assign(document.createElement('canvas'), { width, height });
  const ink = canvas.getContext('2d');
  ink?.setTransform(-1, 0, 0, -1, width, height);
  ink?.drawImage(bitmap, 0, 0);
  bitmap.close();
  return new Promise((resolve) => canvas.toBlob(resolve, 'image/jpeg', QUALITY));
}

/** As faces are kept. */
const QUALITY = 0.95;
