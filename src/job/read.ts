import * as v from 'valibot';
import { InputProblem } from '../units';

/** JSON pointer (RFC 6901) of a validation issue. */
function pointer(issue: v.BaseIssue<unknown>): string {
  return (issue.path ?? []).map((item) => `/${String(item.key).replaceAll('~', '~0').replaceAll('/', '~1')}`).join('');
}

/** What the value of an issue is called in a sentence. */
function sentence(issue: v.BaseIssue<unknown>, where: string): string {
  const name = where === '' ? 'The input' : `"${where}"`;
  if (issue.type === 'strict_object' && issue.expected === 'never') return `${name} is not a key that is known here.`;
  if (issue.received === 'undefined') return `${name} is missing.`;
  if (issue.type === 'strict_tuple' && issue.expected === 'never' && !issue.message.startsWith('must'))
    return `${name} is one too many.`;
  const own = issue.message.startsWith('must') || issue.message.startsWith('the ');
  return own
    ? `${name}: ${issue.message}.`
    : `${name} should be ${issue.expected ?? 'something else'} but is ${issue.received}.`;
}

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
  if (result.success) return result.output;
  const issue = result.issues[0];
  const where = pointer(issue);
  throw new InputProblem(sentence(issue, where), where, mend(issue));
}
