import * as v from 'valibot';
import { InputProblem, quoted } from '../units';

/** JSON pointer (RFC 6901) of a validation issue. */
function pointer(issue: v.BaseIssue<unknown>): string {
  return (issue.path ?? []).map((item) => `/${String(item.key).replaceAll('~', '~0').replaceAll('/', '~1')}`).join('');
}

/** What the value of an issue is called in a sentence. */
function sentence(issue: v.BaseIssue<unknown>, where: string): string {
  const name = called(where);
  if (issue.type === 'strict_object' && issue.expected === 'never') return `${name} is not a key that is known here.`;
  if (issue.received === 'undefined') return `${name} is missing.`;
  if (issue.type === 'strict_tuple' && issue.expected === 'never' && !issue.message.startsWith('must'))
    return `${name} is one too many.`;
  const own = issue.message.startsWith('must') || issue.message.startsWith('the ');
  return own
    ? `${name}: ${issue.message}.`
    : `${name} should be ${issue.expected ?? 'something else'} but is ${clipped(issue.received)}.`;
}

const called = (where: string): string => (where === '' ? 'The input' : quoted(where, MOST_SAID));
const clipped = (received: string): string =>
  received.length > MOST_SAID ? `${received.slice(0, MOST_SAID)}…` : received;
/** Characters of a path or value that a sentence gives. */
const MOST_SAID = 120;

function mend(issue: v.BaseIssue<unknown>): string {
  if (issue.type === 'strict_object' && issue.expected === 'never') return 'Take it out, or correct its spelling.';
  if (issue.received === 'undefined') return 'Add it.';
  if (issue.type === 'strict_tuple' && issue.expected === 'never') return 'Take it out.';
  return 'Correct the value there.';
}

/**
 * `input` checked against a schema: strict, first fault reported.
 * @throws InputProblem with the JSON pointer of the fault
 */
export function checked<S extends v.GenericSchema>(schema: S, input: unknown): v.InferOutput<S> {
  const result = v.safeParse(schema, input, { abortEarly: true });
  if (result.success) {
    const odd = oddKey(input);
    if (odd === null) return result.output;
    throw new InputProblem(
      `${called(odd)} is not a key that is known here.`,
      odd,
      'Take it out, or name it otherwise.',
    );
  }
  const issue = result.issues[0];
  const where = pointer(issue);
  throw new InputProblem(sentence(issue, where), where, mend(issue));
}

/** Where a value has a key that every object has by itself ("constructor", "__proto__"), which a schema passes over in silence; null for nowhere. */
function oddKey(value: unknown, at = ''): string | null {
  if (typeof value !== 'object' || value === null) return null;
  for (const [key, part] of Object.entries(value)) {
    const here = `${at}/${key}`;
    const odd = key in Object.prototype || key === 'prototype' ? here : oddKey(part, here);
    if (odd !== null) return odd;
  }
  return null;
}
