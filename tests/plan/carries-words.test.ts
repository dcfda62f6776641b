import { describe, expect, it } from 'vitest';
import { type Job, slabKey } from '../../src/job';
import type { Carries } from '../../src/layout';
import { carriesWords, onlyTaped } from '../../src/plan';
import { seededRandom } from '../../src/search';
import { rackJob } from '../support/rack';
import { tapedJob } from '../support/taped';

const job = tapedJob(rackJob({ slabs: 2, seed: 4 }), seededRandom(4));
const keys = Object.values(job.flitches).flatMap(({ id, slabs }) =>
  Object.keys(slabs).map((slab) => slabKey(id, slab)),
);
const room = (spare: number, plusMinus: number) => ({ spare, plusMinus });
const told = (change: Partial<Carries>): Carries => ({
  ...{ top: 'top-1', slabs: keys.slice(0, 1), says: 'may', worst: 'depth' },
  rooms: { length: room(300, 60), depth: room(40, 60), thickness: room(4, 2) },
  ...change,
});
const say = (change: Partial<Carries>, of: Job = job) =>
  Object.values(carriesWords(of, told(change)))
    .join(' | ')
    .replaceAll('\u00a0', ' ');

describe('a verdict in words', () => {
  it('says what is to spare with its doubt, of one slab and of two, and what a tape never tells', () => {
    expect(say({ says: 'carries' })).toBe(
      'carries | carries it alone | To spare: 40 mm of width (±60), 4 mm of thickness (±2). | Look it over for holes and rot.',
    );
    expect(say({ says: 'carries', slabs: keys })).toContain('this pair gives it');
  });

  it('names the limit that is missed and by how much, in the units of the job', () => {
    const thin = { says: 'cannot', worst: 'thickness', rooms: { thickness: room(-6, 2) } } as const;
    expect(say(thin)).toContain('too thin by 6 mm once flat');
    expect(say(thin, { ...job, units: 'in' })).toContain('too thin by ¼" once flat');
    expect(say({ says: 'cannot', worst: 'depth', rooms: { depth: room(-80, 60) } })).toContain('too narrow by 80 mm');
    expect(say({ says: 'cannot', worst: 'length', rooms: { length: room(-300, 60) } })).toContain(
      'too short by 300 mm',
    );
  });

  it('says what would settle it, the cheapest first', () => {
    expect(say({})).toContain('A photo of Slab 1 with cards on it.');
    expect(say({ worst: 'thickness' })).toContain('Take readings of the middle of Slab 1.');
    const bowless = structuredClone(job);
    for (const { slabs } of Object.values(bowless.flitches)) for (const slab of Object.values(slabs)) slab.warp = null;
    expect(say({ worst: 'thickness' }, bowless)).toContain('Stretch a string along Slab 1.');
    expect(say({ worst: 'depth', rooms: { depth: room(40, 60) } })).toContain('nobody knows yet how thick');
  });
});

describe('a slab that only a tape tells', () => {
  it('is said to be on no map once it is bought, and not before', () => {
    expect(onlyTaped(job)).toBeNull();
    const bought = structuredClone(job);
    for (const { slabs } of Object.values(bought.flitches))
      for (const slab of Object.values(slabs)) slab.offer = 'bought';
    expect(onlyTaped(bought)?.replaceAll('\u00a0', ' ')).toBe(
      'Slab 1 and Slab 2 are known from a tape alone (edges ±30 mm): good enough to buy by, not to cut by. Photograph them under Stock.',
    );
    expect(onlyTaped(rackJob({ slabs: 2, seed: 4 }))).toBeNull();
  });
});
