import { z } from 'zod';

const formats: Record<string, string> = {
  uuid: 'the id of a record',
  date: 'a date as YYYY-MM-DD',
  datetime: 'a time as YYYY-MM-DDThh:mm:ssZ',
  email: 'an e-mail address',
  url: 'a web address',
};
const kinds: Record<string, string> = {
  string: 'text',
  number: 'a number',
  int: 'a whole number',
  boolean: 'true or false',
  array: 'a list',
  object: 'an object',
  record: 'an object',
  date: 'a date',
  null: 'null',
};
const counted: Record<string, string> = {
  string: 'characters',
  array: 'entries',
  set: 'entries',
  map: 'entries',
};

/**
 * What would be right instead, for every schema that does not say so itself: "must be a whole number".
 * It goes after the name of the field and the value that was given.
 */
function mustBe(issue: z.core.$ZodRawIssue): string {
  switch (issue.code) {
    case 'invalid_type':
      return `must be ${kinds[issue.expected] ?? issue.expected}`;
    case 'invalid_value':
      return `must be ${oneOf(issue.values)}`;
    case 'invalid_format':
      return `must be ${formats[issue.format] ?? 'written in another form'}`;
    case 'too_small':
      return `must ${bound(issue.origin, issue.minimum, issue.inclusive ? 'at least' : 'more than', 'above')}`;
    case 'too_big':
      return `must ${bound(issue.origin, issue.maximum, issue.inclusive ? 'at most' : 'fewer than', 'below')}`;
    case 'not_multiple_of':
      return `must be a multiple of ${issue.divisor}`;
    case 'unrecognized_keys':
      return 'is not a field of this request';
    case 'invalid_union':
      return Array.isArray(issue.options)
        ? `must be ${oneOf(issue.options)}`
        : 'fits none of the forms it may have';
    default:
      return 'is not right';
  }
}

function bound(origin: string, limit: number | bigint, inclusiveWords: string, strictWord: string): string {
  const unit = counted[origin];
  if (unit !== undefined) return `have ${inclusiveWords} ${limit} ${unit}`;
  const strict = inclusiveWords === 'more than' || inclusiveWords === 'fewer than';
  return `be ${strict ? strictWord : inclusiveWords} ${limit}`;
}

function oneOf(values: readonly unknown[]): string {
  const words = values.map((value) => (typeof value === 'string' ? value : JSON.stringify(value)));
  return words.length < 2 ? words.join() : `${words.slice(0, -1).join(', ')} or ${words.at(-1)}`;
}

/**
 * Makes `mustBe` the language of every schema in this program. In the page and its workers it also keeps zod from
 * compiling its checks, which the content security policy refuses and the console would complain of.
 */
export function speakPlainly(): void {
  z.config({ localeError: mustBe, jitless: !('process' in globalThis) });
}
