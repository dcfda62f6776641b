import { describe, expect, it } from 'vitest';
import { COMMANDS } from '../../src/cli/commands';
import { Bench, faultsAgainst } from './call';
import { board, cracked, slabA, slabB } from './inputs';

async function schemaOf(bench: Bench, ...words: string[]) {
  const { status, out } = await bench.call(['schema', ...words]);
  expect(status).toBe(0);
  return JSON.parse(out);
}

describe('the printed schemas', () => {
  it('fit what the commands print', async () => {
    await using bench = await Bench.make();
    for (const [command, inputs] of Object.entries({
      flatten: [slabA, slabB, { ...slabA, interpolate: 'smooth' }],
      leaves: [board, { ...board, board: { ...board.board, thickness: 2 } }],
      keys: [cracked, { ...cracked, top: { ...cracked.top, thickness: 5 } }, { ...cracked, cracks: [] }],
    })) {
      const schema = await schemaOf(bench, command);
      for (const input of inputs) {
        const { status, out, told } = await bench.call([command], JSON.stringify(input));
        expect([status, told], command).toEqual([0, []]);
        expect(faultsAgainst(schema, JSON.parse(out)), command).toEqual([]);
        expect(faultsAgainst({ ...schema.$defs.input, $defs: schema.$defs }, input), command).toEqual([]);
      }
    }
  });

  it('fit what every kind of wood prints, each by its own and all by that of wood', async () => {
    await using bench = await Bench.make();
    const all = await schemaOf(bench, 'wood');
    for (const line of [
      'emc --celsius 20 --rh 50',
      'movement --species walnut --width 600 --from 5 --to 20 --cut through',
      'weight --species teak --mc 90 --volume 0',
      'species',
    ]) {
      const { out } = await bench.call(['wood', ...line.split(' ')]);
      expect(faultsAgainst(all, JSON.parse(out)), line).toEqual([]);
      expect(faultsAgainst(await schemaOf(bench, 'wood', line.split(' ')[0] as string), JSON.parse(out))).toEqual([]);
    }
  });

  it('refuse what the commands do not print', async () => {
    await using bench = await Bench.make();
    const schema = await schemaOf(bench, 'leaves');
    const good = { leaves: 8, remnant: 11.3, cuts: [1] };
    expect(faultsAgainst(schema, good)).toEqual([]);
    for (const bad of [{ ...good, more: 1 }, { ...good, leaves: 1.5 }, { ...good, cuts: ['1'] }, { leaves: 8 }])
      expect(faultsAgainst(schema, bad)).not.toEqual([]);
  });

  it('give the defaults of what may be left out', async () => {
    await using bench = await Bench.make();
    const { $defs } = await schemaOf(bench, 'keys');
    const { required, properties } = $defs.input;
    expect(required).not.toContain('rules');
    // A rule without a figure of its own says what holds instead.
    for (const [name, rule] of Object.entries<{ default?: unknown; description?: string }>(properties.rules.properties))
      expect(rule.default !== undefined || /where left out/.test(rule.description ?? ''), name).toBe(true);
    const flatten = await schemaOf(bench, 'flatten');
    expect(flatten.$defs.input.properties.sled.default).toMatchObject({ depth: 3 });
  });

  it('are there for every command, and are schemas', async () => {
    await using bench = await Bench.make();
    for (const name of Object.keys(COMMANDS)) {
      const schema = await schemaOf(bench, name);
      expect(schema.$schema).toBe('https://json-schema.org/draft/2020-12/schema');
      // Compiling refuses what is no schema; no output of ours is a bare number.
      expect(faultsAgainst(schema, 1), name).not.toEqual([]);
      expect(faultsAgainst(await schemaOf(bench, 'schema'), schema)).toEqual([]);
    }
  });
});
