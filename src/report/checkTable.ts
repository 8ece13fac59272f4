// The power-up list as a table: channels down, checks across; what a check asks stands once where it is the same for all.
import type { PowerUpItem } from '../electrothermal/result.ts'
import { namesInRows } from './wiringTable.ts'

export interface CheckRow {
  channel: string
  /** By check, in the order of `CheckTable.steps`; null: not one of this channel's. */
  items: (PowerUpItem | null)[]
}

export interface CheckTable {
  steps: string[]
  rows: CheckRow[]
  /** What each check asks: one sentence for all, or one for each set of channels that share it. */
  meanings: { step: string; sentences: { of: string; what: string }[] }[]
}

/** Sentences of one check that stand above the table; where there are more, each channel's own stands in its row. */
const MOST_SENTENCES = 3

export function checkTable(items: readonly PowerUpItem[]): CheckTable {
  const own = items.filter((i) => i.channel !== null)
  const steps = [...new Set(own.map((i) => i.step))]
  const channels = new Map<string, PowerUpItem[]>()
  for (const item of own) {
    const known = channels.get(item.channel ?? '')
    if (known) known.push(item)
    else channels.set(item.channel ?? '', [item])
  }
  const rows = [...channels].map(([channel, all]) => ({
    channel,
    items: steps.map((step) => all.find((i) => i.step === step) ?? null),
  }))
  const meanings = steps.map((step) => {
    const sentences = new Map<string, string[]>()
    for (const item of own) {
      if (item.step !== step) continue
      const named = sentences.get(item.what)
      if (named) named.push(item.channel ?? '')
      else sentences.set(item.what, [item.channel ?? ''])
    }
    const all = [...sentences]
    if (all.length > MOST_SENTENCES) return { step, sentences: [] }
    return {
      step,
      sentences: all.map(([what, names]) => ({ of: all.length === 1 ? '' : namesInRows(names), what })),
    }
  })
  return { steps, rows, meanings }
}

/** By check the figure that all rows share, which stands once above them; null where they differ; empty for a single row. */
export function sharedFigures(rows: readonly CheckRow[]): (string | null)[] {
  const [first, ...others] = rows
  if (!first || others.length === 0) return []
  return first.items.map((item, i) =>
    item && others.every((r) => r.items[i]?.short === item.short) ? item.short : null,
  )
}
