// Groups channels that are wired alike, for the wiring diagram.
import type { WireRun } from '../electrothermal/result.ts'

export interface ChannelRow {
  count: number
  first: string
  last: string
  into: WireRun
  out: WireRun | null
}

/** In the order of the wiring table; a channel of several boards has a row of its own. */
export function alikeChannels(wiring: readonly WireRun[]): ChannelRow[] {
  const rows = new Map<string, ChannelRow>()
  for (const into of wiring) {
    if (into.part !== 'channel' || into.channel === null) continue
    const out = wiring.find((w) => w.part === 'board' && w.channel === into.channel) ?? null
    const single = out?.to === `board ${into.channel}`
    const key = JSON.stringify(
      single ? [into.gaugeWords, into.lengthMm, into.fuse, out?.gaugeWords, out?.lengthMm] : into.channel,
    )
    const row = rows.get(key)
    if (row) rows.set(key, { ...row, count: row.count + 1, last: into.channel })
    else rows.set(key, { count: 1, first: into.channel, last: into.channel, into, out })
  }
  return [...rows.values()]
}
