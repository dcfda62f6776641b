import { mkdir } from 'node:fs/promises';
import { describe, expect, it } from 'vitest';
import { toPng } from '../../src/cli/photo-file';
import { leafPictures } from '../leaves/rendered-leaves';
import { Bench, errorOf, faultsAgainst } from './call';
import { board } from './inputs';

/** Four small leaves as files beside the input, and two panels wanted of them. */
async function withPhotos(bench: Bench) {
  await mkdir(`${bench.folder}/photos`);
  const leafPhotos = [];
  for (const { id, picture, outline } of leafPictures(4, { length: 400, width: 150, drift: [2, 1] })) {
    await bench.put(`photos/${id}.png`, await toPng(picture.raster));
    leafPhotos.push({ id, image: `photos/${id}.png`, mmPerPx: 1, outline });
  }
  const panels = [
    { id: 'door', width: 260, height: 350, match: 'book' },
    { id: 'gate', width: 260, height: 900, match: 'slip' },
  ];
  return { ...board, leafPhotos, panels };
}

describe('leaves with their photos', () => {
  it.runIf(process.env.SLOW)('reads them from beside the input, and says which leaves make which panel', async () => {
    await using bench = await Bench.make();
    await using inner = await Bench.make();
    await inner.put('in.json', await withPhotos(inner));
    // Asked from another folder: paths start from the file that names them.
    const { status, out } = await bench.call(['leaves', `${inner.folder}/in.json`]);
    expect(status).toBe(0);
    const found = JSON.parse(out);
    expect(found).toMatchObject({ leaves: 8, remnant: 11.3, short: [{ id: 'gate' }] });
    expect(found.panels.map(({ id }: { id: string }) => id)).toEqual(['door']);
    expect(found.panels[0].leaves).toHaveLength(2);
    const schema = JSON.parse((await bench.call(['schema', 'leaves'])).out);
    expect(faultsAgainst(schema, found)).toEqual([]);
    expect((await bench.call(['leaves', `${inner.folder}/in.json`])).out).toBe(out);
  });

  it('names the entry whose picture cannot be read', async () => {
    await using bench = await Bench.make();
    const input = await withPhotos(bench);
    await bench.put('photos/leaf-3.png', 'no picture');
    await bench.put('in.json', input);
    const called = await bench.call(['leaves', 'in.json']);
    expect([called.status, errorOf(called).where]).toEqual([2, '/leafPhotos/2/image']);
    await bench.put('in.json', { ...board, panels: [] });
    expect(errorOf(await bench.call(['leaves', 'in.json'])).where).toBe('/panels');
  });
});
