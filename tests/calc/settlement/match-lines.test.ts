import { describe, expect, it } from 'vitest';
import { matchLines, type UnmatchedLine } from '../../../api/calc/settlement/match-lines.ts';
import { settle } from '../../../api/calc/settlement/settle.ts';
import { inventedParcel } from '../../bench/invented-parcels.ts';

const ours = settle(inventedParcel(1));
const amountOf = (id: string): string => ours.lines.find((line) => line.id === id)?.amount ?? '';
const money = (label: string, amount: string): UnmatchedLine => ({ label, quantity: null, amount });
const figure = (label: string, quantity: string): UnmatchedLine => ({ label, quantity, amount: null });
const idsOf = (theirs: UnmatchedLine[]) => matchLines(ours, theirs).map(({ id, by }) => [id, by]);

describe('lines of theirs and ours', () => {
  it('go together by the same words, whatever the case, blanks and signs between them', () => {
    expect(
      idsOf([money('TREATMENT  CHARGE', '-1'), money('Refining of Au:', '-2'), figure('ag', '1')]),
    ).toEqual([
      ['charges/treatment', 'label'],
      ['charges/refining/Au', 'label'],
      ['assays/Ag', 'label'],
    ]);
  });

  it('go together by an amount that only these two have', () => {
    expect(idsOf([money('Smelting', amountOf('charges/treatment'))])).toEqual([
      ['charges/treatment', 'amount'],
    ]);
    const twice = amountOf('charges/treatment');
    expect(idsOf([money('Smelting', twice), money('Again', twice)])).toEqual([
      [null, null],
      [null, null],
    ]);
  });

  it('go together by words of which one label holds all, metals by name or symbol', () => {
    expect(
      idsOf([
        money('Gold refining charges', '-1'),
        money('Gold', '5'),
        money('Arsenic penalty', '-2'),
        money('Freight to works', '-3'),
        figure('Settlement dry mass, kg', '14000'),
      ]),
    ).toEqual([
      ['charges/refining/Au', 'words'],
      ['payable/Au', 'words'],
      ['penalties/As', 'words'],
      ['charges/freight', 'words'],
      ['weights/settlement', 'words'],
    ]);
  });

  it('are not guessed where two lines fit, where none does, or where one is money and the other not', () => {
    expect(
      idsOf([money('Refining', '-1'), money('Weighbridge fee', '-35'), figure('Freight', '12')]),
    ).toEqual([
      [null, null],
      [null, null],
      [null, null],
    ]);
  });
});
