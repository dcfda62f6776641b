import { readFile, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { COMMANDS } from '../../src/cli/commands';
import { Bench, errorOf, faultOf } from './call';
import { board, cracked, slabA } from './inputs';

const INPUTS = { flatten: slabA, leaves: board, keys: cracked };

describe('the command line', () => {
  it('refuses unknown commands, options and arguments, and says which', async () => {
    await using bench = await Bench.make();
    await bench.put('a.json', board);
    for (const [line, where] of [
      ['', 'command'],
      ['saw', 'saw'],
      ['constructor', 'constructor'],
      ['wood', 'kind of wood'],
      ['wood burn', 'burn'],
      ['leaves a.json --fast', '--fast'],
      ['leaves a.json -x', '-x'],
      ['leaves a.json b.json', 'b.json'],
      ['leaves a.json --out', '--out'],
      ['leaves a.json --out x.json --out y.json', '--out'],
      ['leaves --out --help2 a.json', '--out'],
      ['schema saw', 'saw'],
      ['wood emc --celsius 20', '--rh'],
      ['wood emc --celsius warm --rh 50', '--celsius'],
      ['wood emc --celsius 20 --rh 101', '--rh'],
      ['wood emc --celsius Infinity --rh 50', '--celsius'],
      ['wood movement --species yew --width 5 --from 8 --to 9 --cut flat', '--species'],
      ['wood movement --species walnut --width -5 --from 8 --to 9 --cut flat', '--width'],
      ['wood movement --species walnut --width 5 --from 8 --to 9 --cut rift', '--cut'],
      ['wood weight --species walnut --mc 8 --volume 5 --rh 3', '--rh'],
    ] as const)
      expect((await faultOf(bench, line === '' ? [] : line.split(' '))).where, line).toBe(where);
  });

  it('helps with every command, and with all of them', async () => {
    await using bench = await Bench.make();
    const general = await bench.call(['--help']);
    expect(general.status).toBe(0);
    for (const [name, load] of Object.entries(COMMANDS)) {
      expect(general.out).toContain(name);
      const command = await load();
      const names = 'kinds' in command ? Object.keys(command.kinds).map((kind) => [name, kind]) : [[name]];
      for (const words of [[name], ...names]) {
        const { status, out } = await bench.call([...words, '--help']);
        expect([status, out.includes('Example:')], words.join(' ')).toEqual([0, true]);
      }
    }
  });

  it('carries out the examples of its own help', async () => {
    await using bench = await Bench.make();
    for (const [name, load] of Object.entries(COMMANDS)) {
      const found = await load();
      const each = 'kinds' in found ? Object.entries(found.kinds) : [[undefined, found] as const];
      for (const [kind, { example, exampleInput }] of each) {
        // What needs the demo photos is carried out beside them.
        if (example.includes('demo-images')) continue;
        const [, file, json] = /^(\S+):\n([\s\S]+)$/.exec(exampleInput?.trim() ?? '') ?? [];
        if (file) await bench.put(file, json);
        const words = [name, kind, ...example.split(' ')].filter((word) => word);
        const called = await bench.call(words as string[]);
        // An example with pictures is sound up to them; they are not here.
        if (exampleInput?.includes('"image"')) expect(errorOf(called).where).toBe('/slabs/0/image');
        else expect([called.status, called.told], words.join(' ')).toEqual([0, []]);
      }
    }
  });

  it('takes its input from a file or from standard input', async () => {
    await using bench = await Bench.make();
    await bench.put('a.json', board);
    const { out } = await bench.call(['leaves', 'a.json']);
    expect((await bench.call(['leaves'], JSON.stringify(board))).out).toBe(out);
    expect((await bench.call(['leaves', '-'], JSON.stringify(board))).out).toBe(out);
    await faultOf(bench, ['leaves']);
    await faultOf(bench, ['leaves'], '');
  });
});

describe('an input file', () => {
  it('that is missing, a folder, empty or no JSON is refused by its name, with line and column', async () => {
    await using bench = await Bench.make();
    for (const [name, content, said] of [
      ['empty.json', '', /empty/],
      ['blank.json', ' \n ', /empty/],
      ['cut.json', '{"board":{"length":1650,\n"width":210', /line 2, column 12/],
      ['comma.json', '{"a":1,}', /line 1, column 8/],
      ['words.json', 'hello', /line 1, column 1/],
      ['comment.json', '{\n// a board\n"a":1}', /line 2, column 1/],
      ['latin.json', Uint8Array.of(0x22, 0xe9, 0x22), /UTF-8/],
    ] as const) {
      await bench.put(name, content);
      const { where, message } = await faultOf(bench, ['leaves', name]);
      expect([where, message], name).toEqual([name, expect.stringMatching(said)]);
    }
    expect((await faultOf(bench, ['leaves', 'gone.json'])).where).toBe('gone.json');
    expect((await faultOf(bench, ['leaves', '.'])).message).toMatch(/folder/);
  });

  it('may begin with a byte order mark', async () => {
    await using bench = await Bench.make();
    await bench.put('a.json', `\ufeff${JSON.stringify(board)}`);
    expect((await bench.call(['leaves', 'a.json'])).status).toBe(0);
  });

  it('is refused for every unknown key, at any depth, with its path', async () => {
    await using bench = await Bench.make();
    for (const [command, input] of Object.entries(INPUTS)) {
      for (const path of objectsIn(input)) {
        for (const key of ['kerff', 'constructor', '__proto__']) {
          const spoilt = structuredClone(input);
          Object.defineProperty(at(spoilt, path), key, { value: 1, enumerable: true });
          const { where } = await faultOf(bench, [command], JSON.stringify(spoilt));
          expect(where).toBe(`/${[...path, key].join('/')}`);
        }
      }
    }
  });

  it('is refused for every value of a wrong kind, with its path', async () => {
    await using bench = await Bench.make();
    for (const [command, input] of Object.entries(INPUTS)) {
      for (const path of valuesIn(input)) {
        for (const wrong of [null, 'x y', [[]], true]) {
          const spoilt = structuredClone(input);
          at(spoilt, path.slice(0, -1))[path.at(-1) as string] = wrong;
          const called = await bench.call([command], JSON.stringify(spoilt));
          // A text stands where a text may stand; whether it names anything is the room's to say.
          expect(called.status, `${command} ${path.join('/')} ${wrong}`).toBe(2);
          const { where } = errorOf(called);
          expect(`${where}/`.startsWith(`/${path.join('/')}`) || `/${path.join('/')}`.startsWith(where)).toBe(true);
        }
      }
    }
  });
});

describe('what is given', () => {
  it('is the same to the byte each time, printed or written', async () => {
    await using bench = await Bench.make();
    for (const [command, input] of Object.entries(INPUTS)) {
      await bench.put('in.json', input);
      const { out } = await bench.call([command, 'in.json']);
      const again = await bench.call([command, 'in.json', '--out', 'out.json']);
      expect([again.status, again.out]).toEqual([0, '']);
      expect(await readFile(join(bench.folder, 'out.json'), 'utf8')).toBe(out);
    }
  });

  it('leaves an older file as it was when the input is at fault', async () => {
    await using bench = await Bench.make();
    await bench.put('out.json', 'older');
    await bench.put('in.json', { ...board, kerf: -1 });
    await faultOf(bench, ['leaves', 'in.json', '--out', 'out.json']);
    expect(await readFile(join(bench.folder, 'out.json'), 'utf8')).toBe('older');
  });

  it('goes only where a file can be', async () => {
    await using bench = await Bench.make();
    await bench.put('in.json', board);
    expect((await faultOf(bench, ['leaves', 'in.json', '--out', 'no/out.json'])).where).toBe('no/out.json');
    expect((await faultOf(bench, ['leaves', 'in.json', '--out', '.'])).message).toMatch(/folder/);
    expect((await bench.call(['leaves', 'in.json', '--out', '/dev/null'])).status).toBe(0);
    expect((await stat('/dev/null')).isFile()).toBe(false);
  });
});

type Path = readonly string[];

/** The object at a path. */
const at = (value: unknown, path: Path) =>
  path.reduce((part, step) => (part as Record<string, unknown>)[step], value) as Record<string, unknown>;

/** Paths of every object in a value. */
function objectsIn(value: unknown, path: Path = []): Path[] {
  if (typeof value !== 'object' || value === null) return [];
  const inner = Object.entries(value).flatMap(([key, part]) => objectsIn(part, [...path, key]));
  return Array.isArray(value) ? inner : [path, ...inner];
}

/** Paths of every number and text in a value. */
function valuesIn(value: unknown, path: Path = []): Path[] {
  if (typeof value !== 'object' || value === null) return [path];
  return Object.entries(value).flatMap(([key, part]) => valuesIn(part, [...path, key]));
}
