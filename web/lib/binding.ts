/**
 * A value inside a form's draft: what it is, where it stands (JSON pointer,
 * RFC 6901), and how to change it. Spread it into a field:
 * `<TextField label="Code" {...at(form, 'code')} />`.
 */
export interface Binding<Value> {
  pointer: string;
  value: Value;
  onChange: (next: Value) => void;
  /** Changes from the latest value, so that two changes in one event both count. */
  update: (change: (value: Value) => Value) => void;
}

const escapeToken = (token: string): string => token.replaceAll('~', '~0').replaceAll('/', '~1');

/** A binding to the whole of a value. */
export function bindWhole<Value>(
  value: Value,
  update: (change: (value: Value) => Value) => void,
): Binding<Value> {
  return { pointer: '', value, update, onChange: (next) => update(() => next) };
}

/** The binding to one member of an object. */
export function at<Value extends object, Key extends keyof Value & string>(
  parent: Binding<Value>,
  key: Key,
): Binding<Value[Key]> {
  const update = (change: (value: Value[Key]) => Value[Key]): void =>
    parent.update((whole) => ({ ...whole, [key]: change(whole[key]) }));
  return {
    pointer: `${parent.pointer}/${escapeToken(key)}`,
    value: parent.value[key],
    update,
    onChange: (next) => update(() => next),
  };
}

/** The bindings to the items of a list, in order. */
export function items<Item>(parent: Binding<Item[]>): Binding<Item>[] {
  return parent.value.map((value, index) => {
    const update = (change: (item: Item) => Item): void =>
      parent.update((list) => list.map((item, position) => (position === index ? change(item) : item)));
    return { pointer: `${parent.pointer}/${index}`, value, update, onChange: (next) => update(() => next) };
  });
}
