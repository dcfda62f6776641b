/** Decimals of a number that leaves the command line (COMMANDS), and of one that three decimals would spoil. */
const DECIMALS = 3;
const EXACT_DECIMALS = 9;

/**
 * `value` as it is printed: plain JSON, its numbers rounded to 0.001, those under a key of `exact` to 1e-9.
 * @throws Error for a number that JSON cannot hold: a fault of ours, which must not leave as a silent null
 */
export function rounded(value: unknown, exact: readonly string[] = []): unknown {
  const names = new Set(exact);
  const walk = (part: unknown, decimals: number, path: string): unknown => {
    if (typeof part === 'number') {
      if (!Number.isFinite(part)) throw new Error(`The output holds ${part} at ${path}.`);
      const scale = 10 ** decimals;
      // Beyond 2^53 / scale a number has no decimals left to round.
      return Math.abs(part) < Number.MAX_SAFE_INTEGER / scale ? Math.round(part * scale) / scale + 0 : part;
    }
    if (typeof part !== 'object' || part === null) return part;
    if (Array.isArray(part) || ArrayBuffer.isView(part))
      return Array.from(part as ArrayLike<unknown>, (item, i) => walk(item, decimals, `${path}/${i}`));
    return Object.fromEntries(
      Object.entries(part).map(([key, inner]) => [
        key,
        walk(inner, names.has(key) ? EXACT_DECIMALS : decimals, `${path}/${key}`),
      ]),
    );
  };
  return walk(value, DECIMALS, '');
}
