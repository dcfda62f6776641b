import { spawn } from 'node:child_process';
import { describe, expect, it } from 'vitest';

/** The command line as a process of its own: what only that can show. */

function start(command: string, env: NodeJS.ProcessEnv = {}) {
  return new Promise<{ status: number | null; out: string; told: string[] }>((resolve, reject) => {
    const child = spawn('bash', ['-c', command], { env: { ...process.env, ...env } });
    let [out, told] = ['', ''];
    child.stdout.on('data', (part) => {
      out += part;
    });
    child.stderr.on('data', (part) => {
      told += part;
    });
    child.on('error', reject);
    child.on('close', (status) => resolve({ status, out, told: told.trim().split('\n') }));
  });
}

describe('the process', () => {
  it('prints its answer and ends with 0', async () => {
    const { status, out, told } = await start('npm run -s waneline -- wood emc --celsius 20 --rh 50');
    expect([status, JSON.parse(out), told]).toEqual([0, { emc: expect.any(Number) }, ['']]);
  });

  it('ends with 2 when the input is at fault, the error object as the last line', async () => {
    const { status, out, told } = await start(`echo '{"board":1}' | npm run -s waneline -- leaves`);
    expect([status, out]).toEqual([2, '']);
    expect(JSON.parse(told.at(-1) as string)).toMatchObject({ error: { where: '/board' } });
  });

  it('is silent when its reader leaves early', async () => {
    const { status, told } = await start('set -o pipefail; npx tsx src/cli/main.ts wood species | true');
    expect([status, told]).toEqual([0, ['']]);
  });

  it('looks for files where the person stands, when npm starts it', async () => {
    const asked = 'npm --prefix "$OLDPWD" run -s waneline -- leaves README.md';
    const { status, told } = await start(`cd demo-images && ${asked}`);
    expect(status).toBe(2);
    expect(JSON.parse(told.at(-1) as string).error).toMatchObject({
      where: 'README.md',
      message: expect.stringMatching(/line 1/),
    });
  });
});
