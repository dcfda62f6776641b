import type { Job } from '../../src/job';

type Parts = Record<string, unknown>;
const isParts = (value: unknown): value is Parts =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** Where the members of a job stand that other parts may name: slabs, tops, leaves, doors and all else that has an id of its own. */
export function membersOf(part: unknown, path: readonly string[] = []): (readonly string[])[] {
  if (!isParts(part)) return [];
  return Object.entries(part).flatMap(([key, value]) => {
    const own = [...path, key];
    return [...(isParts(value) && value.id === key ? [own] : []), ...membersOf(value, own)];
  });
}

/** The job without some of its members, whatever names them. @param picks one a member that goes, any whole numbers */
export function without(job: Job, picks: readonly number[]): Job {
  const rest = structuredClone(job);
  for (const pick of picks) {
    const members = membersOf(rest);
    const path = members[pick % members.length] ?? [];
    const parent = path.slice(0, -1).reduce<Parts>((at, key) => at[key] as Parts, rest as unknown as Parts);
    delete parent[path.at(-1) as string];
  }
  return rest;
}
