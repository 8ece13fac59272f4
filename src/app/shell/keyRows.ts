import type { Act } from '../actions/action.ts'

/** A line an act, but one for those that do the same thing four ways. */
export function keyRows(acts: readonly Act[], group: Act['group']): [string, string[]][] {
  const rows = new Map<string, string[]>()
  for (const act of acts) {
    if (act.group !== group || act.keys.length === 0) continue
    const what = act.together ?? act.label
    rows.set(what, [...(rows.get(what) ?? []), ...act.keys])
  }
  return [...rows]
}
