// Channels of one group that are wired alike, for the wiring diagram.

import type { GroupNeed, WireRun } from '../electrothermal/result.ts'
import { gaugeInEither } from '../library/wireGauge.ts'
import { inSystem } from '../num/quantity.ts'
import type { UnitSystem } from '../num/unitSystem.ts'

/** The runs with their gauges in one system of units, for a diagram. */
export const gaugesIn = (wiring: readonly WireRun[], system: UnitSystem): readonly WireRun[] =>
  system === 'metric'
    ? wiring
    : wiring.map((run) => ({ ...run, gaugeWords: inSystem(gaugeInEither(run.gaugeWords), system) }))

export interface ChannelRow {
  count: number
  /** Behind all of them. */
  boards: number
  group: string
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
      single
        ? [into.group, into.gaugeWords, into.lengthMm, into.fuse, out?.gaugeWords, out?.lengthMm]
        : [into.group, into.channel, 'alone'],
    )
    const row = rows.get(key)
    if (row) rows.set(key, { ...row, count: row.count + 1, boards: row.boards + into.boards })
    else rows.set(key, { count: 1, boards: into.boards, group: into.group ?? '', into, out })
  }
  return [...rows.values()]
}

export interface GroupBlock {
  id: string
  name: string
  /** Of its relay and its own fuse; empty: neither. */
  words: string[]
  /** “in Low”, “in 2 modes”; “in every mode”. */
  on: string
  feed: WireRun | null
  rows: ChannelRow[]
}

/** The diagram's rows by group, in the order of the wiring table. */
export function groupBlocks(wiring: readonly WireRun[], groups: readonly GroupNeed[]): GroupBlock[] {
  const rows = alikeChannels(wiring)
  return [...new Set(rows.map((r) => r.group))].map((id) => {
    const need = groups.find((g) => g.id === id)
    const feed = wiring.find((w) => w.part === 'group' && w.group === id) ?? null
    const relay = need?.relay ? [`relay ${need.relay.maxA} A`] : []
    return {
      ...{ id, name: need?.name ?? id, feed },
      words: [...(feed?.fuse ? [`fuse ${feed.fuse.amps} A`] : []), ...relay],
      on: need ? shortOnWords(need) : '',
      rows: rows.filter((r) => r.group === id),
    }
  })
}

/** Whether the diagram has blocks for groups: where one has a relay or wires of its own. */
export const hasGroupBlocks = (blocks: readonly GroupBlock[]): boolean =>
  blocks.some((b) => b.feed !== null || b.words.length > 0)

function shortOnWords(need: Pick<GroupNeed, 'byMode'>): string {
  const on = need.byMode.filter((m) => m.isLit)
  return on.length > 1 && on.length < need.byMode.length ? `in ${on.length} modes` : onWords(need)
}

/** In which modes a group is on, in words: “in every mode”, “in Low and High”, “in no mode”. */
export function onWords({ byMode }: Pick<GroupNeed, 'byMode'>): string {
  const on = byMode.filter((m) => m.isLit).map((m) => m.name)
  if (on.length === byMode.length) return 'in every mode'
  if (on.length === 0) return 'in no mode'
  return `in ${on.length === 1 ? on[0] : `${on.slice(0, -1).join(', ')} and ${on[on.length - 1]}`}`
}
