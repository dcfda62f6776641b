import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

/** WCAG 2.2, relative luminance and contrast ratio. */
function luminance(hex: string): number {
  const [r, g, b] = [1, 3, 5].map((i) => {
    const c = Number.parseInt(hex.slice(i, i + 2), 16) / 255;
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
  }) as [number, number, number];
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}
function contrast(a: string, b: string): number {
  const [hi, lo] = [luminance(a), luminance(b)].sort((x, y) => y - x) as [number, number];
  return (hi + 0.05) / (lo + 0.05);
}

const css = readFileSync('src/app/styles/tokens.css', 'utf8');
const tokens = (text: string) =>
  new Map([...text.matchAll(/(--[\w-]+):\s*(#[0-9a-f]{6})/g)].map(([, name, hex]) => [name as string, hex as string]));
const dark = css.indexOf('prefers-color-scheme: dark');
const light = tokens(css.slice(0, dark));
const themes = { light, dark: new Map([...light, ...tokens(css.slice(dark))]) };

describe.each(Object.entries(themes))('the %s colours', (_, colours) => {
  const of = (name: string) => colours.get(name) as string;
  const grounds = ['--paper', '--panel', '--card', '--wash'];

  it.each(['--ink', '--ink-soft', '--chalk', '--red', '--good'])(
    '%s reads on every ground (WCAG 2.2 AA, 4.5 : 1)',
    (text) => {
      for (const ground of grounds) expect(contrast(of(text), of(ground)), ground).toBeGreaterThanOrEqual(4.5);
    },
  );

  it('field edges are seen (WCAG 2.2 AA, 3 : 1)', () => {
    for (const ground of ['--panel', '--card'])
      expect(contrast(of('--rule'), of(ground)), ground).toBeGreaterThanOrEqual(3);
  });

  it('a filled button reads', () => {
    expect(contrast(of('--on-ink'), of('--ink'))).toBeGreaterThanOrEqual(4.5);
  });
});
