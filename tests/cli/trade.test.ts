import { describe, expect, it } from 'vitest';
import { Bench } from './call';
import { board, cracked, slabA, slabB } from './inputs';

/** The trade's worked cases through the command line. Source: the project's trade notes, section 11, arithmetic derived there. */

async function answer(command: string, input: unknown) {
  await using bench = await Bench.make();
  await bench.put('input.json', input);
  const { status, out, told } = await bench.call([command, 'input.json']);
  expect([status, told]).toEqual([0, []]);
  return JSON.parse(out);
}

const around = (value: number, tolerance: number) => (found: number) =>
  expect(Math.abs(found - value), `${found} against ${value}`).toBeLessThanOrEqual(tolerance);

describe('the worked cases', () => {
  it('a: bow and cup of one sense leave 42.6 of 54 over 2,250, of opposite sense 43.2, and 40.25 whole', async () => {
    const { blanks, whole } = await answer('flatten', slabA);
    around(42.61, 0.01)(blanks[0].thickest);
    around(40.25, 0.01)(whole.thickest);
    const opposite = await answer('flatten', { ...slabA, warp: { ...slabA.warp, cup: -4 } });
    around(43.2, 0.05)(opposite.blanks[0].thickest);
  });

  it('a: passes are of at most 3 mm, and the budget adds up to the rough thickness', async () => {
    const { blanks } = await answer('flatten', slabA);
    for (const { faces, budget } of blanks) {
      for (const { passes } of faces) for (const { depth } of passes) expect(depth).toBeLessThanOrEqual(3);
      const [rough, ...rest] = budget.map(({ mm }: { mm: number }) => mm);
      // Each of the items is rounded to 0.001 by itself.
      around(rough, 0.004)(rest.reduce((sum: number, mm: number) => sum + mm, 0));
    }
  });

  it('b: the strips of two slabs give 44.98 and 44.73', async () => {
    around(44.98, 0.01)((await answer('flatten', slabA)).blanks[1].thickest);
    around(44.73, 0.01)((await answer('flatten', slabB)).blanks[0].thickest);
  });

  it('c: a board of 46 gives 8 leaves and a remnant of 11.3, without dressing 9', async () => {
    expect(await answer('leaves', board)).toMatchObject({ leaves: 8, remnant: 11.3 });
    expect(await answer('leaves', { ...board, dressing: 0 })).toMatchObject({ leaves: 9 });
  });

  it('d: four keys at 70, 223, 377 and 530 along a crack of 600, 14 deep, template 90 long with a waist of 41.7', async () => {
    const { keys } = await answer('keys', cracked);
    const along = keys.map(({ at }: { at: [number, number] }) => Math.round(at[0] - 300));
    expect(along).toEqual([70, 223, 377, 530]);
    for (const { depth, angle, template } of keys) {
      expect([depth, Math.abs(angle)]).toEqual([14, 90]);
      const ys = template.map(([, y]: [number, number]) => y);
      around(90, 0.01)(Math.max(...ys) - Math.min(...ys));
      const waist = template.filter(([, y]: [number, number]) => Math.abs(y - 320) < 1e-6).map(([x]: [number]) => x);
      around(41.7, 0.1)(Math.max(...waist) - Math.min(...waist));
    }
  });
});

describe('published figures of wood', () => {
  it('gives cells of the Wood Handbook, Table 4-2', async () => {
    await using bench = await Bench.make();
    // 70 F and 50 %: 9.2; 30 F and 50 %: 9.5, the temperature below zero written as it is.
    for (const [celsius, emc] of [
      ['21.111', 9.2],
      ['-1.111', 9.5],
    ] as const) {
      const { out } = await bench.call(['wood', 'emc', '--celsius', celsius, '--rh', '50']);
      around(emc, 0.07)(JSON.parse(out).emc);
    }
  });

  it('moves white fir as the handbook does: 232 mm from 8 to 11 %, 1.7 mm', async () => {
    await using bench = await Bench.make();
    const { out } = await bench.call(
      'wood movement --species fir_white --width 232 --from 8 --to 11 --cut flat'.split(' '),
    );
    around(1.7, 0.05)(JSON.parse(out).change);
  });

  it('weighs 2,400 x 900 x 60 of walnut at 79 kg', async () => {
    await using bench = await Bench.make();
    const { out } = await bench.call('wood weight --species walnut --mc 8 --volume 129.6'.split(' '));
    around(79, 0.5)(JSON.parse(out).kg);
  });
});
