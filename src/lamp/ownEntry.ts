/**
 * Entry of a record whose keys are names from a lamp file; undefined where there is none. Names such as `constructor` and `__proto__` are
 * names like any other: what every object inherits is no entry.
 */
export const ownEntry = <T>(record: Readonly<Record<string, T>> | undefined, name: string): T | undefined =>
  record && Object.hasOwn(record, name) ? record[name] : undefined
