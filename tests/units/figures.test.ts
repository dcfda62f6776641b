import { expect, test } from 'vitest';
import {
  formatAngle,
  formatArea,
  formatDuration,
  formatForce,
  formatMass,
  formatMoney,
  formatPressure,
  formatShare,
} from '../../src/units';

const nb = '\u00a0';

test('figures in both systems, by the definitions of foot, pound and inch', () => {
  expect(formatArea(304.8 * 304.8 * 12, 'in')).toBe(`12.0${nb}ft²`);
  expect(formatArea(1_408_000, 'mm')).toBe(`1.41${nb}m²`);
  expect(formatMass(79, 'in')).toBe(`174${nb}lb`);
  expect(formatMass(79.4, 'mm')).toBe(`79${nb}kg`);
  expect(formatForce(108_000, 'mm')).toBe(`108${nb}kN`);
  expect(formatForce(950, 'mm')).toBe(`950${nb}N`);
  expect(formatForce(4448.2216152605, 'in')).toBe(`1000${nb}lbf`);
  expect(formatPressure(1.2, 'mm')).toBe(`1.2${nb}MPa`);
  expect(formatPressure(1.2, 'in')).toBe(`174${nb}psi`);
  expect(formatMoney(-1234.5, 'EUR')).toBe(`−1234.50${nb}EUR`);
  expect(formatShare(0.117)).toBe(`12${nb}%`);
  expect(formatShare(-0.0001)).toBe(`0${nb}%`);
  expect(formatAngle(-14.5)).toBe('−14.5°');
});

test('time is said in the unit that fits it, and minutes never reach 60', () => {
  expect(formatDuration(12.4)).toBe(`12${nb}s`);
  expect(formatDuration(59.6)).toBe(`1${nb}min`);
  expect(formatDuration(59.6 * 60)).toBe(`1${nb}h${nb}00${nb}min`);
  expect(formatDuration(3900)).toBe(`1${nb}h${nb}05${nb}min`);
});
