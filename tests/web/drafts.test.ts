import { describe, expect, it } from 'vitest';
import { at, bindWhole, items } from '../../web/lib/binding.ts';
import { draftName, keepDraft, readDraft, sameShape } from '../../web/lib/drafts.ts';
import type { DraftStore } from '../../web/lib/drafts.ts';
import { plainChoices } from '../../web/lib/owner.ts';

function memoryStore(): DraftStore {
  const kept = new Map<string, string>();
  return {
    getItem: (name) => kept.get(name) ?? null,
    setItem: (name, text) => void kept.set(name, text),
    removeItem: (name) => void kept.delete(name),
  };
}

const initial = { code: '', reagents: [{ name: '', massG: '' }] };
const typed = {
  code: 'L-7',
  reagents: [
    { name: 'borax', massG: '12.' },
    { name: 'soda ash', massG: '' },
  ],
};

describe('drafts', () => {
  it('gives back exactly what was typed, with the time', () => {
    const store = memoryStore();
    const savedAt = '2031-05-04T12:05:00.000Z';
    expect(keepDraft(store, 'n', { savedAt, startedFrom: JSON.stringify(initial), value: typed })).toBe(true);
    expect(readDraft(store, 'n', initial)).toEqual({
      value: typed,
      startedFrom: JSON.stringify(initial),
      state: { kind: 'restored', savedAt: new Date(savedAt), recordChanged: false },
    });
  });

  it('says when the record has changed since', () => {
    const store = memoryStore();
    keepDraft(store, 'n', { savedAt: new Date().toISOString(), startedFrom: '{"code":"L-6"}', value: typed });
    expect(readDraft(store, 'n', initial).state).toMatchObject({ kind: 'restored', recordChanged: true });
    expect(readDraft(store, 'n', initial).startedFrom).toBe('{"code":"L-6"}');
  });

  it('does not put a draft into a form with other fields', () => {
    const store = memoryStore();
    keepDraft(store, 'n', { savedAt: '', startedFrom: '', value: { ...typed, colour: 'red' } });
    expect(readDraft(store, 'n', initial)).toEqual({
      value: initial,
      startedFrom: JSON.stringify(initial),
      state: { kind: 'unreadable' },
    });
    store.setItem('n', 'not json');
    expect(readDraft(store, 'n', initial)).toEqual({
      value: initial,
      startedFrom: JSON.stringify(initial),
      state: { kind: 'unreadable' },
    });
    store.setItem('n', 'null');
    expect(readDraft(store, 'n', initial).state).toEqual({ kind: 'unreadable' });
  });

  it('says when the browser keeps nothing', () => {
    const full: DraftStore = {
      ...memoryStore(),
      setItem: () => {
        throw new DOMException('full', 'QuotaExceededError');
      },
    };
    expect(keepDraft(full, 'n', { savedAt: '', startedFrom: '', value: typed })).toBe(false);
  });

  it('keeps figures typed in other units apart', () => {
    expect(draftName('lot/new', plainChoices)).not.toBe(
      draftName('lot/new', { ...plainChoices, massUnit: 'lb' }),
    );
  });

  it('compares shapes through lists and missing values', () => {
    expect(sameShape(initial, typed)).toBe(true);
    expect(sameShape({ a: null }, { a: 'x' })).toBe(true);
    expect(sameShape({ a: '' }, { a: 1 })).toBe(false);
    expect(sameShape({ a: [''] }, { a: [1] })).toBe(false);
    expect(sameShape({ a: {} }, { a: [] })).toBe(false);
  });
});

describe('bindings', () => {
  it('reach a field by its JSON pointer and change only it', () => {
    let draft = typed;
    const form = bindWhole(draft, (change) => {
      draft = change(draft);
    });
    const second = items(at(form, 'reagents'))[1];
    if (second === undefined) throw new Error('no second reagent');
    const mass = at(second, 'massG');
    expect(mass.pointer).toBe('/reagents/1/massG');
    mass.onChange('7.5');
    at(second, 'name').onChange('nitre');
    expect(draft.reagents).toEqual([
      { name: 'borax', massG: '12.' },
      { name: 'nitre', massG: '7.5' },
    ]);
  });

  it('escape a name as RFC 6901 does', () => {
    const form = bindWhole({ 'g/t~': '' }, () => undefined);
    expect(at(form, 'g/t~').pointer).toBe('/g~1t~0');
  });
});
