/** The last few values by key, the one used longest ago forgotten first. */
export interface Remembered<V> {
  get(key: string): V | undefined;
  set(key: string, value: V): void;
}

export function remembered<V>(most: number): Remembered<V> {
  const values = new Map<string, V>();
  const put = (key: string, value: V): void => {
    values.delete(key);
    values.set(key, value);
    for (const oldest of values.keys()) {
      if (values.size <= most) break;
      values.delete(oldest);
    }
  };
  return {
    get: (key) => {
      const value = values.get(key);
      if (value !== undefined) put(key, value);
      return value;
    },
    set: put,
  };
}
