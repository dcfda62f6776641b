import fc from 'fast-check';
import { expect, test } from 'vitest';
import { InputProblem } from '../../src/units';
import { emcCelsius } from '../../src/wood';
import examples from '../fixtures/worked_examples.json';
import table from './emc-table-4-2.json';

const celsius = (fahrenheit: number) => (fahrenheit - 32) / 1.8;

test('all 342 cells of GTR-190 Table 4-2 (2010) within the rounding of the table', () => {
  let cells = 0;
  let worst = 0;
  for (const { temp_F, emc_percent } of table.rows) {
    emc_percent.forEach((printed, i) => {
      const off = Math.abs(emcCelsius(celsius(temp_F), table.relative_humidity_percent[i] as number) - printed);
      worst = Math.max(worst, off);
      cells++;
    });
  }
  expect(cells).toBe(342);
  expect(worst).toBeLessThanOrEqual(0.07);
});

test.each(examples.examples.filter(({ id }) => id.startsWith('emc-')))('$id: $source', (example) => {
  const { T_F, RH } = example.inputs as { T_F: number; RH: number };
  const out = example.published_output as { emc?: number; emc_equation?: number };
  expect(Math.abs(emcCelsius(celsius(T_F), RH) - (out.emc ?? (out.emc_equation as number)))).toBeLessThanOrEqual(0.07);
});

test('damper air makes damper wood, warmer air drier wood, and dry air dry wood', () => {
  const t = fc.double({ min: -1, max: 90, noNaN: true });
  fc.assert(
    fc.property(t, fc.double({ min: 0, max: 99, noNaN: true }), (warm, rh) => {
      expect(emcCelsius(warm, rh + 1)).toBeGreaterThan(emcCelsius(warm, rh));
      expect(emcCelsius(warm, 0)).toBe(0);
      // Below some 10 degrees the table is flat in temperature (it prints the same figures at 30 and 40 F).
      if (warm > 15 && rh > 1) expect(emcCelsius(warm + 5, rh)).toBeLessThan(emcCelsius(warm, rh));
    }),
  );
});

test.each([
  [20, 101, '/rh'],
  [20, -1, '/rh'],
  [150, 50, '/celsius'],
  [Number.NaN, 50, '/celsius'],
])('%d C and %d %% are refused', (t, rh, where) => {
  expect(() => emcCelsius(t, rh)).toThrow(expect.objectContaining({ name: InputProblem.name, where }));
});
