type Store = Pick<Storage, 'getItem' | 'setItem' | 'removeItem'>;

const inMemory = new Map<string, string>();

/** Stands in where the browser forbids storage: it lasts as long as the page. */
const memoryStore: Store = {
  getItem: (name) => inMemory.get(name) ?? null,
  setItem: (name, text) => void inMemory.set(name, text),
  removeItem: (name) => void inMemory.delete(name),
};

/** The browser's store for what must outlive the tab. */
export function pageStore(): Store {
  try {
    return window.localStorage;
  } catch {
    return memoryStore;
  }
}
