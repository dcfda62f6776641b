import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync, rmSync } from 'node:fs';

/**
 * What `npm test` does: every step, even after one has failed, and at the end one line of figures. Each check counts as
 * one. `npm test -- types unit` does only the steps of those names.
 */
const STEPS: Record<string, { title: string; command: string; report?: string }> = {
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

const total: Count = { passed: 0, failed: 0, skipped: 0 };
const failures: string[] = [];
for (const [name, { title, command, report }] of Object.entries(STEPS)) {
  if (asked.length && !asked.includes(name)) continue;
  console.log(`\n=== ${title} (${name})`);
  if (report) rmSync(report, { force: true });
  const started = Date.now();
  const succeeded = spawnSync(command, { shell: true, stdio: 'inherit', env }).status === 0;
  console.log(`${succeeded ? 'done' : 'FAILED'} in ${((Date.now() - started) / 1000).toFixed(1)} s`);
  if (!succeeded) failures.push(name);
  const { passed, failed, skipped } = count(succeeded, report);
  total.passed += passed;
  total.failed += failed;
  total.skipped += skipped;
}

console.log(failures.length ? `\nFailed: ${failures.join(', ')}` : '\nAll is well');
console.log(`${total.passed} passed, ${total.failed} failed${total.skipped ? `, ${total.skipped} skipped` : ''}`);
process.exitCode = failures.length ? 1 : 0;
