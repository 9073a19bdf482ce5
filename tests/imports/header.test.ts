import { describe, expect, it } from 'vitest';
import { closest } from '../../api/imports/closest.ts';
import { optional, required } from '../../api/imports/file-kind.ts';
import { readHeader } from '../../api/imports/header.ts';
import { problemList } from '../../api/imports/problem-list.ts';

const known = [required('code'), required('made_on'), optional('remarks'), optional('reagent:Soda ash_g')];

function read(...cells: string[]) {
  const problems = problemList();
  return { ...readHeader({ row: 2, cells, known, problems }), problems: problems.listed };
}

describe('a header', () => {
  it('is read whatever its case, blanks and underscores, and may have columns without a name', () => {
    expect(read('CODE', ' Made\u00a0 on', '', 'Reagent: soda_ash_G')).toEqual({
      columns: ['code', 'made_on', undefined, 'reagent:Soda ash_g'],
      readable: true,
      problems: [],
    });
  });

  it('names what it does not know, and what is known', () => {
    expect(read('code', 'made_on', 'remark')).toEqual({
      columns: ['code', 'made_on', null],
      readable: true,
      problems: [
        {
          row: 2,
          column: 'remark',
          value: null,
          message:
            'The column is not known; the nearest is remarks. Known are code, made_on, remarks, reagent:Soda ash_g.',
        },
      ],
    });
  });

  it('must have what is needed, once', () => {
    expect(read('code', 'Code', 'x', 'X')).toMatchObject({
      readable: false,
      problems: [
        { column: 'Code', message: 'The column is there twice, as column 1 and as column 2.' },
        { column: 'x', message: expect.stringContaining('not known') },
        { column: 'X', message: 'The column is there twice, as column 3 and as column 4.' },
        { column: 'made_on', message: 'The column made_on is missing. Needed are code, made_on.' },
      ],
    });
  });

  it('tells apart by their exact names two columns that are alike', () => {
    const alike = [optional('reagent:Soda ash_g'), optional('reagent:soda_ash_g')];
    const columnsOf = (cell: string) =>
      readHeader({ row: 1, cells: [cell], known: alike, problems: problemList() }).columns;
    expect(columnsOf('reagent:soda_ash_g')).toEqual(['reagent:soda_ash_g']);
    expect(columnsOf('reagent:Soda ash_g')).toEqual(['reagent:Soda ash_g']);
    expect(columnsOf('reagent:SODA ASH_g')).toEqual([null]);
  });
});

it('the closest names come nearest first', () => {
  expect(closest('boraks', ['Silica', 'Borax glass', 'Borax', 'Fluorspar'], 2)).toEqual([
    'Borax',
    'Borax glass',
  ]);
  expect(closest('L-17', ['L-7', 'L-71', 'M-2'])).toEqual(['L-7', 'L-71', 'M-2']);
  expect(closest('x'.repeat(100_000), ['Borax'])).toEqual(['Borax']);
});
