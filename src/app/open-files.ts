import { announce } from './announce';
import { bringInAll, refreshJobs } from './jobs';
import { type Trouble, troubleOf } from './parts/problem';
import { go, jobAddress } from './route';

/**
 * Opens the job files among these, however they came. One is shown at once; several are put on the shelf, and that is said.
 * Nothing that is open or stored is touched.
 * @returns what is wrong with those that could not be opened; null where nothing is
 */
export async function openFiles(files: readonly File[]): Promise<Trouble | null> {
  try {
    const { ids, refused } = await bringInAll(files);
    await refreshJobs();
    if (ids[0] && ids.length === 1 && refused.length === 0) go(jobAddress(ids[0]));
    else if (ids.length > 0)
      announce(ids.length === 1 ? 'One job was put on the shelf.' : `${ids.length} jobs were put on the shelf.`);
    return refused.length > 0 ? inOne(refused.map(troubleOf), ids.length) : null;
  } catch (error) {
    return troubleOf(error);
  }
}

function inOne([first, ...more]: Trouble[], opened: number): Trouble | null {
  if (!first || (more.length === 0 && opened === 0)) return first ?? null;
  const count = more.length + 1;
  return { ...first, message: `${count === 1 ? 'One file' : `${count} files`} could not be opened. ${first.message}` };
}
