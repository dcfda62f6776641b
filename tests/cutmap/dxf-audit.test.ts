import { spawnSync } from 'node:child_process';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { cuttingMap, toDxf } from '../../src/cutmap';
import { inventedRequest } from './invented';

/** Errors that ezdxf finds, and repairs that it would have to make, in each file that it is given. */
const AUDIT = `
import sys, ezdxf
for path in sys.argv[1:]:
    audit = ezdxf.readfile(path).audit()
    print(len(audit.errors), len(audit.fixes))
`;
const present = spawnSync('python3', ['-c', 'import ezdxf']).status === 0;

test.runIf(present)('ezdxf opens every drawing of a plan and finds nothing to mend', async () => {
  const folder = await mkdtemp(join(tmpdir(), 'waneline-dxf-'));
  try {
    const { drawings } = cuttingMap(await inventedRequest(3));
    const paths = await Promise.all(
      drawings.map(async (drawing) => {
        const path = join(folder, `${drawing.name}.dxf`);
        await writeFile(path, await toDxf(drawing));
        return path;
      }),
    );
    const { stdout, status } = spawnSync('python3', ['-c', AUDIT, ...paths], { encoding: 'utf8' });
    expect(status).toBe(0);
    expect(stdout.trim().split('\n')).toEqual(paths.map(() => '0 0'));
  } finally {
    await rm(folder, { recursive: true });
  }
});
