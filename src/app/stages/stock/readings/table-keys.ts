/**
 * Arrow keys in a table of fields: up and down (and Enter, as typed figures go down a column) to the field over or under this one; left and right to
 * the one beside it once the caret stands at that end of what is typed. What was typed is read as the field is left, so this must catch the key
 * before the field does.
 */
export function moveInTable(event: KeyboardEvent): void {
  const input = event.target;
  if (!(input instanceof HTMLInputElement) || event.altKey || event.ctrlKey || event.metaKey || event.shiftKey) return;
  const row = input.closest('tr');
  const rows = [...(row?.parentElement?.children ?? [])];
  const fieldsOf = (each: Element | undefined) => [...(each?.querySelectorAll('input') ?? [])];
  const own = fieldsOf(row ?? undefined);
  const column = own.indexOf(input);
  const inRow = (by: number) => fieldsOf(rows[rows.indexOf(row as Element) + by])[column];
  const beside: Readonly<Record<string, () => HTMLInputElement | undefined>> = {
    ArrowUp: () => inRow(-1),
    ArrowDown: () => inRow(1),
    Enter: () => inRow(1),
    ArrowLeft: () => (atEnd(input, 0) ? own[column - 1] : undefined),
    ArrowRight: () => (atEnd(input, input.value.length) ? own[column + 1] : undefined),
  };
  const next = beside[event.key]?.();
  if (!next) return;
  event.preventDefault();
  event.stopPropagation();
  next.focus();
  next.select();
}

/** Whether the caret stands there, or all is marked, as it is just after coming. */
function atEnd({ selectionStart, selectionEnd, value }: HTMLInputElement, place: number): boolean {
  const all = selectionStart === 0 && selectionEnd === value.length;
  return all || (selectionStart === place && selectionEnd === place);
}
