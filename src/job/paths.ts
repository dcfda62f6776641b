/** Whether a path leads out of the folder or archive that it is meant for, on any system. A job file may come from a stranger. */
export function leadsOut(path: string): boolean {
  return path.startsWith('/') || /^[A-Za-z]:/.test(path) || /[\\\0]/.test(path) || path.split('/').includes('..');
}
