type UndefinedKeys<T> = { [K in keyof T]: undefined extends T[K] ? K : never }[keyof T]
type Defined<T> = Omit<T, UndefinedKeys<T>> & { [K in UndefinedKeys<T>]?: Exclude<T[K], undefined> }

/** The properties that have a value: a component is given no `undefined` where its types ask for a value or nothing. */
export const defined = <T extends object>(props: T): Defined<T> =>
  Object.fromEntries(Object.entries(props).filter(([, value]) => value !== undefined)) as Defined<T>
