/** JSON pointers of the places at which two values differ. */
export function differences(one: unknown, other: unknown, at = ''): string[] {
  if (Object.is(one, other)) return [];
  const both = typeof one === 'object' && typeof other === 'object' && one !== null && other !== null;
  if (!both || Array.isArray(one) !== Array.isArray(other)) return [at];
  const keys = new Set([...Object.keys(one), ...Object.keys(other)]);
  return [...keys].flatMap((key) =>
    differences((one as Record<string, unknown>)[key], (other as Record<string, unknown>)[key], `${at}/${key}`),
  );
}
