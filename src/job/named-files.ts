import type { History } from './edits';
import type { Job } from './job';

/** The photos and face pictures that a job names, each once, in the order of the document. */
export function namedFiles(job: Job): string[] {
  const found = new Set<string>();
  const pieces = [
    ...Object.values(job.flitches).flatMap((flitch) => Object.values(flitch.slabs)),
    ...Object.values(job.boards).flatMap(({ faces, leaves }) => [
      ...(faces ? [{ faces }] : []),
      ...Object.values(leaves),
    ]),
  ];
  for (const { faces } of pieces)
    for (const face of [faces.top, faces.bottom]) {
      for (const photo of Object.values(face.photos)) found.add(photo.file);
      if (face.picture) found.add(face.picture.file);
    }
  return [...found];
}

/**
 * Every file that a job or one of its undo steps may name. Steps hold bits of old documents at any depth, so every text
 * under a key `file` counts.
 */
export function filesInHistory(history: History): Set<string> {
  const found = new Set(namedFiles(history.job));
  const visit = (value: unknown): void => {
    if (Array.isArray(value)) value.forEach(visit);
    else if (value && typeof value === 'object')
      for (const [key, inner] of Object.entries(value)) {
        if (key === 'file' && typeof inner === 'string') found.add(inner);
        else visit(inner);
      }
    // A patch may replace the name alone: its value is then a bare text.
    else if (typeof value === 'string') found.add(value);
  };
  visit(history.done);
  visit(history.undone);
  return found;
}
