import { Decimal } from 'decimal.js';

/**
 * Works the arithmetic of a printed line again from nothing but its text, as a reader
 * with a pocket calculator would: what stands after the last colon, left of `=`.
 * Written apart from the program: it shares none of its code.
 */
export function workAgain(working: string): { worked: Decimal; printed: Decimal; decimals: number } | null {
  const [left, right] = working.slice(working.lastIndexOf(': ') + 1).split(' = ');
  if (left === undefined || right === undefined) return null;
  const tokens = tokenise(left);
  const reader = { tokens, at: 0 };
  const worked = readSum(reader);
  if (reader.at !== tokens.length)
    throw new Error(`left over in “${left}”: ${tokens.slice(reader.at).join(' ')}`);
  const printed = /−?[\d,]+(\.\d+)?/.exec(right)?.[0];
  if (printed === undefined) throw new Error(`no result in “${working}”`);
  return { worked, printed: toNumber(printed), decimals: printed.split('.')[1]?.length ?? 0 };
}

const D = Decimal.clone({ precision: 60 });

function toNumber(text: string): Decimal {
  return new D(text.replaceAll(',', '').replace('−', '-'));
}

/** Numbers, signs and the few words of arithmetic; units and other words fall away. */
function tokenise(text: string): string[] {
  const pattern =
    /lesser of|greater of|whole steps in|started steps in|(?<![A-Za-z/\d])[\d,]*\d(?:\.\d+)?|[×÷+−()%]|[A-Za-z][\w/]*|\S/g;
  const known = /^(lesser of|greater of|whole steps in|started steps in|and|[\d,]*\d(\.\d+)?|[×÷+−()%])$/;
  return (text.match(pattern) ?? []).filter((token) => known.test(token));
}

interface Reader {
  tokens: string[];
  at: number;
}

function take(reader: Reader, token: string): boolean {
  if (reader.tokens[reader.at] !== token) return false;
  reader.at += 1;
  return true;
}

function readSum(reader: Reader): Decimal {
  let sum = readProduct(reader);
  for (;;) {
    if (take(reader, '+')) sum = sum.plus(readProduct(reader));
    else if (take(reader, '−')) sum = sum.minus(readProduct(reader));
    else return sum;
  }
}

function readProduct(reader: Reader): Decimal {
  // One division at the end, as a calculator with enough digits would show it.
  let above = readFactor(reader);
  let below = new D(1);
  for (;;) {
    if (take(reader, '×')) above = above.times(readFactor(reader));
    else if (take(reader, '÷')) below = below.times(readFactor(reader));
    else return above.div(below);
  }
}

function readFactor(reader: Reader): Decimal {
  if (take(reader, 'lesser of')) return readPair(reader, (a, b) => D.min(a, b));
  if (take(reader, 'greater of')) return readPair(reader, (a, b) => D.max(a, b));
  if (take(reader, 'whole steps in')) return readFactor(reader).floor();
  if (take(reader, 'started steps in')) return readFactor(reader).ceil();
  if (take(reader, '−')) return readFactor(reader).neg();
  if (take(reader, '(')) {
    const inner = readSum(reader);
    if (!take(reader, ')')) throw new Error('a bracket is not closed');
    return inner;
  }
  const number = toNumber(reader.tokens[reader.at] ?? '');
  reader.at += 1;
  return take(reader, '%') ? number.div(100) : number;
}

function readPair(reader: Reader, pick: (a: Decimal, b: Decimal) => Decimal): Decimal {
  const first = readFactor(reader);
  if (!take(reader, 'and')) throw new Error('a pair needs two parts');
  return pick(first, readFactor(reader));
}
