import { describe, expect, it } from 'vitest';
import { encodingFault } from '../../api/imports/encoding.ts';
import { fileStart } from '../../api/imports/file-start.ts';

const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);
const startOf = (text: string): unknown => {
  const start = fileStart(bytesOf(text));
  return typeof start === 'string'
    ? start
    : [start.separator, start.headerRow, new TextDecoder().decode(start.table)];
};

describe('the start of a file', () => {
  it.each<[string, unknown]>([
    ['a,b\n1,2', [',', 1, 'a,b\n1,2']],
    ['a;b\n1,5;2', [';', 1, 'a;b\n1,5;2']],
    ['\ufeffa;b', [';', 1, 'a;b']],
    ['sep=;\r\na;b', [';', 2, 'a;b']],
    ['\ufeff"sep=,"\na,b', [',', 2, 'a,b']],
    ['SEP=;\na,b;c,d,e', [';', 2, 'a,b;c,d,e']],
    ['"x,y,z";b', [';', 1, '"x,y,z";b']],
    ['"made;on",b', [',', 1, '"made;on",b']],
    ['code\nL-1', [',', 1, 'code\nL-1']],
    [';;;\r\n\r\n  \na;b', [';', 4, 'a;b']],
    ['sep=\t\na\tb', expect.stringContaining('separated by tabs')],
    ['a\tb\n1\t2', expect.stringContaining('separated by tabs')],
    ['sep=|\na|b', expect.stringContaining('separated by "|"')],
    ['\ufeff', 'The file is empty.'],
    ['\ufeff\r\n;;;\r\n ', 'The file is empty.'],
    ['sep=;', 'The file is empty.'],
  ])('%j', (text, start) => {
    expect(startOf(text)).toEqual(start);
  });
});

describe('the encoding of a file', () => {
  it('may be UTF-8, with or without a mark', () => {
    expect(encodingFault(bytesOf('Löt,é,鉱\n'))).toBeNull();
    expect(encodingFault(bytesOf('\ufeffa,b'))).toBeNull();
  });

  it.each<[string, Uint8Array, RegExp]>([
    ['nothing', new Uint8Array(0), /is empty/],
    ['UTF-16, little end first, marked', Buffer.from('\ufeffcode,made_on\r\nL-1', 'utf16le'), /UTF-16/],
    ['UTF-16, big end first, marked', Buffer.from('\ufeffcode', 'utf16le').swap16(), /UTF-16/],
    ['UTF-16 without a mark', Buffer.from('code,made_on\r\nL-1,2026', 'utf16le'), /UTF-16/],
    ['a NUL', Buffer.from('code\nL-1\nL\0-2\n'), /NUL byte on line 3/],
    [
      'an older encoding',
      Buffer.from('code,remarks\nL-1,ok\nL-2,caf\xe9\n', 'latin1'),
      /^Line 3 is not in UTF-8/,
    ],
    ['a cut character at the end', bytesOf('a\né').subarray(0, 3), /^Line 2 is not in UTF-8/],
    ['a workbook', Buffer.from('PK\x03\x04\x14\0\x06\0', 'latin1'), /workbook/],
    ['an old workbook', Buffer.from('d0cf11e0a1b11ae1', 'hex'), /workbook/],
    ['a PDF', Buffer.from('%PDF-1.7\n'), /PDF/],
    ['noise', Uint8Array.from({ length: 5000 }, (_, at) => (at * 7919) % 256 || 1), /UTF-8/],
  ])('is told when it is %s', (_, bytes, sentence) => {
    expect(encodingFault(bytes)).toMatch(sentence);
  });
});
