import type { z } from 'zod';
import { Problem, type FieldError } from './problem.ts';
import { fieldLabel, pointerOf, shownValue } from './problem-sentence.ts';
import { speakPlainly } from './schemas/must-be.ts';

speakPlainly();

type Issue = z.core.$ZodIssue;

/** Every fault that a schema found, as one problem. `input` is what was given, to be named in the sentences. */
export function problemFromZod(error: z.core.$ZodError, input: unknown): Problem {
  const errors = error.issues.flatMap((issue) => fieldErrors(issue, [], input));
  const count = errors.length === 1 ? 'One field' : `${errors.length} fields`;
  return new Problem('validation', `${count} cannot be right. ${errors[0]?.detail ?? ''}`.trim(), { errors });
}

function fieldErrors(issue: Issue, above: readonly PropertyKey[], input: unknown): FieldError[] {
  const path = [...above, ...issue.path];
  if (issue.code === 'unrecognized_keys')
    return issue.keys.map((key) => fieldError([...path, key], issue.message, input));
  if (issue.code === 'invalid_union') {
    // Of the forms the value may have, the one it comes nearest to says best what is wrong with it.
    const [nearest] = issue.errors.filter((issues) => issues.length > 0).sort((a, b) => a.length - b.length);
    if (nearest !== undefined) return nearest.flatMap((inner) => fieldErrors(inner, path, input));
  }
  return [fieldError(path, issue.message, input)];
}

/** Fields whose value opens a door: it is not repeated, not even to whoever sent it. */
const SECRETS: readonly unknown[] = ['password', 'current', 'token'];

function fieldError(path: readonly PropertyKey[], message: string, input: unknown): FieldError {
  const pointer = pointerOf(path);
  if (SECRETS.includes(path.at(-1)))
    return { pointer, detail: `${fieldLabel(pointer)} ${message}${message.endsWith('.') ? '' : '.'}` };
  const value = valueAt(path, input);
  const given =
    value === undefined
      ? 'is missing'
      : Array.isArray(value)
        ? `has ${value.length === 1 ? 'one entry' : `${value.length} entries`}`
        : `is ${shownValue(value)}`;
  const detail = `${fieldLabel(pointer)} ${given}: ${message}${message.endsWith('.') ? '' : '.'}`;
  return value === undefined || typeof value === 'object' ? { pointer, detail } : { pointer, detail, value };
}

function valueAt(path: readonly PropertyKey[], input: unknown): unknown {
  return path.reduce<unknown>(
    (value, step) =>
      typeof value === 'object' && value !== null ? (value as Record<PropertyKey, unknown>)[step] : undefined,
    input,
  );
}
