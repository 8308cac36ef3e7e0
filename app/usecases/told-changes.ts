/** A change with only the values that were told. */
export type ToldChanges<T> = { readonly [K in keyof T]?: Exclude<T[K], undefined> }

/** Leaves out what is undefined: not told is not the same as cleared. */
export function toldChanges<T extends object>(change: T): ToldChanges<T> {
  return Object.fromEntries(
    Object.entries(change).filter(([, value]) => value !== undefined),
  ) as ToldChanges<T>
}
