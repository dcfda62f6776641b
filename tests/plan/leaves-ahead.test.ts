import { describe, expect, it } from 'vitest';
import { emptyJob, type Job, readJobFile } from '../../src/job';
import { frontsOf, layOutSet, prepareBench } from '../../src/leaves';
import { benchLeaves, benchRules, jobAhead, lacksForLookAhead, type PicturedAhead } from '../../src/plan';
import { unwatched } from '../../src/search';
import { boardJobFile } from '../support/board-job';

const job = async (): Promise<Job> => (await readJobFile(new Uint8Array(await boardJobFile()))).job;

describe('leaves before any leaf exists', () => {
  it('travel with the photos of the board, and take its end grain', async () => {
    const { job: read, files } = await readJobFile(new Uint8Array(await boardJobFile()));
    expect([...files.keys()].sort()).toEqual(['faces/back.jpg', 'faces/outer.jpg']);
    const board = read.boards['board-1']!;
    expect(lacksForLookAhead(board)).toBeNull();
    const { ringDegrees: _, ...unread } = board;
    expect(lacksForLookAhead(unread)).toMatch(/end grain/);
    const { faces: __, ...unseen } = board;
    expect(lacksForLookAhead(unseen)).toMatch(/photo of each of its two faces/);
  });

  it('have doors laid on them as real leaves have, each place once, and leave the job as it was', async () => {
    const own = await job();
    const before = structuredClone(own);
    const leaf = (place: number): PicturedAhead => ({
      board: 'board-1',
      boardName: 'Oak board',
      place,
      depth: 4 * place,
      trusted: true,
      outline: [
        [0, 0],
        [260, 0],
        [260, 120],
        [0, 120],
      ],
      defects: [],
      file: `ahead-${place}`,
      picture: { mmPerPx: 1, x0: 0, y0: 0, width: 260, height: 120 },
    });
    const ahead = jobAhead(own, [leaf(1), leaf(2), leaf(3)]);
    const bench = await prepareBench(benchLeaves(ahead, new Map()), benchRules(ahead), unwatched());
    const fronts = frontsOf(Object.values(ahead.doors));
    const set = await layOutSet({ id: 'ahead', name: 'Doors', fronts }, bench, unwatched());
    const used = Object.values(set.fronts).flatMap(({ cells }) => cells.map(({ leaf: id }) => id));
    expect(used.length).toBeGreaterThan(0);
    expect(new Set(used).size).toBe(used.length);
    expect(own).toEqual(before);
    expect(jobAhead(emptyJob('x', 'X', '2026-11-26'), [leaf(1)]).boards).toEqual({});
  });
});
