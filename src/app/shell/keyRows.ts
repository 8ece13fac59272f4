import type { Action } from '../actions/action.ts'

/** One row for each action; actions with the same `sharedLabel` share a row. */
export function keyRows(actions: readonly Action[], group: Action['group']): [string, string[]][] {
  const rows = new Map<string, string[]>()
  for (const action of actions) {
    if (action.group !== group || action.keys.length === 0) continue
    const what = action.sharedLabel ?? action.label
    rows.set(what, [...(rows.get(what) ?? []), ...action.keys])
  }
  return [...rows]
}
