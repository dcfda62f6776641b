import type { LeafUse } from '../plan';

/** 'panel 1 face 1; panel 3 back 1, 2' with `before` 'panel ': what a leaf goes to, the pieces of one side of a panel together. */
export function usesWords(uses: LeafUse['uses'], before = ''): string {
  const pieces = new Map<string, number[]>();
  for (const { panel, side, piece } of uses) {
    const where = `${before}${panel} ${side}`;
    pieces.set(where, [...(pieces.get(where) ?? []), piece]);
  }
  return [...pieces].map(([where, numbers]) => `${where} ${numbers.join(', ')}`).join('; ');
}
