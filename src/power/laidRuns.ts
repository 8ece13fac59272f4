// The wires as they are laid: every run with its ends, gauge, length, contacts, fuse and colours. No current is known here.
import type { Gauge, Group, Harness, Power } from '../lamp/schema.ts'
import type { Channel } from './channels.ts'
import { gaugeWords } from './wire.ts'

export type Fuse = NonNullable<Harness['main']['fuse']>

export interface LaidRun {
  id: string
  /** main, group (to where a group's channels branch), channel (to a driver), board (from it), link (from board to board). */
  part: 'main' | 'group' | 'channel' | 'board' | 'link'
  channel: string | null
  group: string | null
  /** That it serves. */
  boards: number
  from: string
  to: string
  gauge: Gauge
  gaugeWords: string
  /** One way. */
  lengthMm: number
  /** Out and back, or out alone. */
  conductors: 1 | 2
  /** Pairs of contacts. */
  connectors: number
  insulationC: number
  bundled: number
  fuse: Fuse | null
  plus: string
  minus: string
}

export interface LaidWires {
  main: LaidRun
  /** Of the groups that have wires of their own. */
  groups: LaidRun[]
  /** Of each channel: to its driver, from it, and from board to board. */
  channels: LaidRun[][]
}

/**
 * Colours of wires by function, plus and minus. Our own choice: functions must look unlike, and the choice must be
 * the same everywhere.
 */
const COLOURS = {
  supply: ['red', 'black'],
  led: ['white', 'brown'],
} as const

/**
 * Every run of wire: main, to each group that has wires of its own, in and out of each driver, and from board to board in a group: in series each link is one wire alone. Lengths
 * in mm, one way. `boardNames` of all boards, in the lamp's order.
 */
export function layWires(power: Power, channels: readonly Channel[], boardNames: readonly string[]): LaidWires {
  const { supply, harness } = power
  const through = harness.contactor ? 'fuse and contactor' : 'fuse'
  const boardsIn = (own: readonly Channel[]) => own.reduce((sum, c) => sum + c.boards.length, 0)
  const main = laid(harness, harness.main, {
    boards: boardsIn(channels),
    ...{ id: 'main', part: 'main', channel: null, group: null, conductors: 2, fuse: harness.main.fuse },
    ...{ from: supply.name, to: `branching place (through ${through})` },
    ...{ lengthMm: harness.main.lengthMm, connectors: harness.main.connectors },
  })
  const fed = [...new Set(channels.map((c) => c.group))].flatMap((group) =>
    layFeed(harness, group, boardsIn(channels.filter((c) => c.group === group))),
  )
  return { main, groups: fed, channels: channels.map((c) => layChannel(harness, c, boardNames)) }
}

function layFeed(harness: Harness, { id, name, relay, feed }: Group, boards: number): LaidRun[] {
  if (!feed) return []
  const through = [...(feed.fuse ? ['fuse'] : []), ...(relay ? ['relay'] : [])].join(' and ')
  const run = laid(harness, feed, {
    ...{ id: `group ${id}`, part: 'group', channel: null, group: id, boards, conductors: 2, fuse: feed.fuse },
    ...{ from: 'branching place', to: `${groupPlace(name)}${through === '' ? '' : ` (through ${through})`}` },
    ...{ lengthMm: feed.lengthMm, connectors: feed.connectors },
  })
  return [run]
}

const groupPlace = (name: string): string => `group “${name}”`

type Ends = Omit<LaidRun, 'gauge' | 'gaugeWords' | 'insulationC' | 'bundled' | 'plus' | 'minus'>

function laid(harness: Harness, { gauge, insulationC, bundled }: Harness['board'], ends: Ends): LaidRun {
  const [plus, minus] = ends.part === 'board' || ends.part === 'link' ? COLOURS.led : COLOURS.supply
  return {
    ...ends,
    gauge,
    gaugeWords: gaugeWords(gauge),
    insulationC: insulationC ?? harness.insulationC,
    bundled: bundled ?? 2,
    plus,
    minus,
  }
}

function layChannel(harness: Harness, c: Channel, boardNames: readonly string[]): LaidRun[] {
  const own = { channel: c.id, group: c.group.id, boards: c.boards.length } as const
  const name = (k: number) => boardNames[c.boards[k] ?? 0] ?? `${k + 1}`
  const { feed, bundled = harness.channel.bundled, name: groupName } = c.group
  const lies = bundled === undefined ? harness.channel : { ...harness.channel, bundled }
  const into = laid(harness, lies, {
    ...{ ...own, id: `${c.id} in`, part: 'channel', conductors: 2, fuse: harness.channel.fuse },
    ...{ from: feed ? groupPlace(groupName) : 'branching place', to: `driver ${c.id}` },
    ...{ lengthMm: c.lengthMm, connectors: harness.channel.connectors },
  })
  const out = laid(harness, harness.board, {
    ...{ ...own, id: `${c.id} out`, part: 'board', conductors: 2, fuse: null, from: `driver ${c.id}` },
    to: c.wired === 'each' ? `board ${c.id}` : `${c.boards.length} boards of ${c.id}, in ${c.wired}`,
    ...{ lengthMm: harness.board.lengthMm, connectors: harness.board.connectors },
  })
  const links = c.linksMm.map((lengthMm, k) =>
    laid(harness, harness.board, {
      ...{ ...own, id: `${c.id} link ${k + 1}`, part: 'link', fuse: null, from: `board ${name(k)}` },
      to: k === c.boards.length - 1 ? `driver ${c.id}, its minus` : `board ${name(k + 1)}`,
      ...{ lengthMm, connectors: 0, conductors: c.wired === 'series' ? 1 : 2 },
    }),
  )
  return [into, out, ...links]
}
