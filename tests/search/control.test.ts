import { describe, expect, it } from 'vitest';
import { Cancelled, pause, seededRandom, stage, unwatched, WorkBudget } from '../../src/search';

describe('a work budget', () => {
  it('allows its units and no more', () => {
    const budget = new WorkBudget(3);
    expect([budget.spend(), budget.spend(), budget.spend()]).toEqual([true, true, false]);
    expect([budget.spent, budget.left]).toEqual([3, 0]);
  });

  it('ends when the time is up, whatever is left of the units', () => {
    let late = false;
    const budget = new WorkBudget(100, () => late);
    expect(budget.spend(10)).toBe(true);
    late = true;
    expect([budget.spend(10), budget.left]).toEqual([false, 0]);
  });
});

describe('control', () => {
  it('gives up at the next pause after it is cancelled', async () => {
    let stopped = false;
    const control = { ...unwatched(), cancelled: () => stopped };
    await pause(control, 0.1);
    stopped = true;
    await expect(pause(control, 0.2)).rejects.toBeInstanceOf(Cancelled);
  });

  it('puts the progress of a stage into that of the whole', () => {
    const told: number[] = [];
    const control = { ...unwatched(), progress: (fraction: number) => told.push(fraction) };
    const second = stage(control, 0.5, 0.9);
    second.progress(0);
    second.progress(0.5);
    second.progress(1);
    expect(told).toEqual([0.5, 0.7, 0.9]);
  });
});

describe('chance from a seed', () => {
  it('repeats itself for the same seed only', () => {
    const draw = (seed: number): number[] => {
      const random = seededRandom(seed);
      return Array.from({ length: 5 }, () => random.next());
    };
    expect(draw(7)).toEqual(draw(7));
    expect(draw(7)).not.toEqual(draw(8));
  });

  it('is even, normal and shuffled as it says', () => {
    const random = seededRandom(1);
    const n = 20_000;
    const even = Array.from({ length: n }, () => random.next());
    const normal = Array.from({ length: n }, () => random.normal());
    const mean = (xs: number[]): number => xs.reduce((a, b) => a + b) / xs.length;
    // Four standard errors: 4 x 0.289 / sqrt n and 4 / sqrt n.
    expect(Math.abs(mean(even) - 0.5)).toBeLessThan(0.0082);
    expect(Math.abs(mean(normal))).toBeLessThan(0.029);
    expect(mean(normal.map((x) => x * x))).toBeCloseTo(1, 1);
    expect(random.shuffled([1, 2, 3, 4, 5]).sort()).toEqual([1, 2, 3, 4, 5]);
    expect(Array.from({ length: 100 }, () => random.below(3)).every((i) => [0, 1, 2].includes(i))).toBe(true);
  });
});
