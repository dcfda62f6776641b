import { spawn } from 'node:child_process';
import { existsSync, readFileSync, rmSync } from 'node:fs';

type Step = [name: string, { title: string; command: string; report?: string }];

/**
 * What `npm test` does: every step, even after one has failed, and at the end one line of figures. Each check counts as
 * one. `npm test -- types unit` does only the steps of those names. Checks run side by side, since each keeps one core busy and
 * no more; tests run one kind after the other.
 */
const STEPS: Record<string, Step[1]> = {
  types: { title: 'Types', command: 'tsc --noEmit' },
  style: { title: 'Style and common mistakes', command: 'biome check --error-on-warnings .' },
  rooms: { title: 'Who may import whom', command: 'depcruise --output-type err-long src workers' },
  unused: { title: 'Files, exports and packages that nothing uses', command: 'knip' },
  unit: vitest('Unit tests in Node', 'unit'),
  page: vitest('Tests of single modules in a browser', 'page'),
  app: vitest('The built app in a browser', 'app'),
};

function vitest(title: string, project: string) {
  const report = `test-results/${project}.json`;
  const command = `vitest run --project ${project} --reporter=default --reporter=json --outputFile.json=${report}`;
  return { title, command, report };
}

interface Count {
  passed: number;
  failed: number;
  skipped: number;
}

/** What one step's tests came to. A step that failed without a failed test, or without any report, counts as one failed. */
function count(succeeded: boolean, report: string | undefined): Count {
  if (!report || !existsSync(report)) return { passed: Number(succeeded), failed: Number(!succeeded), skipped: 0 };
  const { numPassedTests, numFailedTests, numPendingTests } = JSON.parse(readFileSync(report, 'utf8'));
  const failed = succeeded ? numFailedTests : Math.max(1, numFailedTests);
  return { passed: numPassedTests, failed, skipped: numPendingTests };
}

const asked = process.argv.slice(2);
const unknown = asked.filter((name) => !(name in STEPS));
if (unknown.length) throw new Error(`no such step: ${unknown.join(', ')}. There are ${Object.keys(STEPS).join(', ')}`);

// Some tools colour even what goes to a file, where it cannot be read.
const { FORCE_COLOR, ...plain } = process.env;
const env = process.stdout.isTTY ? process.env : { ...plain, NO_COLOR: '1' };

/** Runs a step to its end. What checks say is held back until then, so that it stands together. */
async function run([name, { title, command, report }]: Step): Promise<Count & { failure: string | null }> {
  if (report) rmSync(report, { force: true });
  const started = Date.now();
  const heading = `\n=== ${title} (${name})`;
  if (report) console.log(heading);
  const child = spawn(command, { shell: true, stdio: report ? 'inherit' : ['ignore', 'pipe', 'pipe'], env });
  let said = '';
  for (const stream of [child.stdout, child.stderr]) stream?.setEncoding('utf8').on('data', (text) => (said += text));
  const status = await new Promise((done) => child.on('close', done));
  if (!report) console.log(heading + (said && `\n${said.trimEnd()}`));
  const succeeded = status === 0;
  console.log(`${succeeded ? 'done' : 'FAILED'} in ${((Date.now() - started) / 1000).toFixed(1)} s`);
  return { ...count(succeeded, report), failure: succeeded ? null : name };
}

const steps = Object.entries(STEPS).filter(([name]) => asked.length === 0 || asked.includes(name));
const done = await Promise.all(steps.filter(([, { report }]) => !report).map(run));
for (const step of steps.filter(([, { report }]) => report)) done.push(await run(step));

const failures = done.flatMap(({ failure }) => failure ?? []);
const sum = (of: (one: Count) => number) => done.reduce((all, one) => all + of(one), 0);
const [passed, failed, skipped] = [sum((one) => one.passed), sum((one) => one.failed), sum((one) => one.skipped)];

console.log(failures.length ? `\nFailed: ${failures.join(', ')}` : '\nAll is well');
console.log(`${passed} passed, ${failed} failed${skipped ? `, ${skipped} skipped` : ''}`);
process.exitCode = failures.length ? 1 : 0;
