// Channels: one fuse, one driver, and the boards behind it.

import { boardsOfGroup } from '../lamp/groups.ts'
import { ownEntry } from '../lamp/ownEntry.ts'
import { boardTypeOf } from '../lamp/place.ts'
import type { Driver, Group, Harness, Lamp, Power } from '../lamp/schema.ts'
import { loopOhm, ohmPerM } from './wire.ts'

export interface Channel {
  /** The board's name, or the group's where one driver serves it whole. */
  id: string
  /** Places in `lamp.boards`. */
  boards: number[]
  group: Group
  /** Channels of its group, itself counted. */
  alike: number
  driver: Driver
  wired: Group['wired']
  /** One way, from the branching place to the driver. */
  lengthMm: number
  /**
   * Out and back. The wires and the relay of its group count in it: n like channels share their R, and the drop n i R is that of n R in each.
   */
  inOhm: number
  outOhm: number
  /**
   * Lengths of the wires from board to board, mm, straight from middle to middle in the order of `boards`. In series one
   * more, from the last board back to the first. None for a single board.
   */
  linksMm: number[]
}

/**
 * Temperature that wires are taken to have, °C: the limit of their insulation, so that the drop is rather too large
 * (our choice).
 */
export const wireTemperatureC = (harness: Harness): number => harness.insulationC

/**
 * The channels of a lamp: one a board, or one a group where one driver serves it whole; in the order of groups, then
 * boards. Groups without boards give none. Resistances in Ω, out and back; in series with the wires between the boards.
 */
export function channelsOf(lamp: Lamp, power: Power): Channel[] {
  const { harness } = power
  const driverOf = new Map(power.drivers.map((d) => [d.id, d]))
  const channel = (id: string, boards: number[], group: Group, alike: number): Channel => {
    const linksMm = linkLengths(lamp, boards, group.wired)
    const linkOhm =
      group.wired === 'series' ? (sumOf(linksMm) / 1000) * ohmPerM(harness.board.gauge, wireTemperatureC(harness)) : 0
    const lengthMm = ownEntry(harness.channelLengthMm, id) ?? harness.channel.lengthMm
    const ohm = (run: Parameters<typeof loopOhm>[0]) =>
      loopOhm(run, harness.connectorMilliohm, wireTemperatureC(harness))
    return {
      id,
      boards,
      group,
      alike,
      driver: driverOf.get(group.driver)!,
      wired: group.wired,
      lengthMm,
      inOhm: ohm({ ...harness.channel, lengthMm }) + alike * groupOhm(group, harness),
      outOhm: ohm(harness.board) + linkOhm,
      linksMm,
    }
  }
  const all: Channel[] = []
  for (const group of power.groups) {
    const boards = boardsOfGroup(lamp, power.groups, group.id)
    if (boards.length === 0) continue
    if (group.wired === 'each') all.push(...boards.map((i) => channel(lamp.boards[i]!.id, [i], group, boards.length)))
    else all.push(channel(group.id, boards, group, 1))
  }
  return all
}

/** Of a group's own wires, out and back, and its relay, Ω, at a temperature of the wires (°C; absent: as warm as their insulation bears). */
export const groupOhm = (
  { relay, feed }: Group,
  harness: Harness,
  celsius: number = wireTemperatureC(harness),
): number => (feed ? loopOhm(feed, harness.connectorMilliohm, celsius) : 0) + (relay?.milliohm ?? 0) / 1000

const sumOf = (x: readonly number[]): number => x.reduce((a, b) => a + b, 0)

function linkLengths(lamp: Lamp, boards: readonly number[], wired: Group['wired']): number[] {
  const places = boards.flatMap((i) => lamp.boards[i] ?? [])
  const first = places[0]
  if (!first || places.length < 2) return []
  const next = [...places.slice(1), ...(wired === 'series' ? [first] : [])]
  return next.map((to, i) => {
    const from = places[i] ?? first
    return Math.hypot(to.xMm - from.xMm, to.yMm - from.yMm)
  })
}

/** Emitters one after another in the longest string of a board. */
export function emittersInSeries(lamp: Lamp, boardIndex: number): number {
  const type = boardTypeOf(lamp, lamp.boards[boardIndex]!)
  return Math.ceil(type.sites.length / parallelStrings(lamp, boardIndex))
}

/** Strings in parallel on a board: as its type has it, no more than it has emitters. */
export function parallelStrings(lamp: Lamp, boardIndex: number): number {
  const type = boardTypeOf(lamp, lamp.boards[boardIndex]!)
  return Math.min(type.strings ?? 1, type.sites.length)
}
