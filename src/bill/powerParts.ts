// Protection, drivers, wires, fuses and supply.
import type { Lamp, Power } from '../lamp/schema.ts'
import { powerOf } from '../library/typicalPower.ts'
import { COPPER_WIRE, insulationMm, insulationOf, STRANDED } from '../library/wireBuild.ts'
import { type Channel, channelsOf } from '../power/channels.ts'
import { type LaidRun, layWires } from '../power/laidRuns.ts'
import { gaugeAreaMm2 } from '../power/wire.ts'
import { gaugeKey, gramsOf, keyNumber, type PlainPart } from './part.ts'

/** More wire than the document's lengths, for slack, ends and what goes wrong: common practice, no source. */
export const WIRE_ALLOWANCE = 0.1

export function powerParts(lamp: Lamp): PlainPart[] {
  const { value: power, assumptions } = powerOf(lamp)
  const channels = channelsOf(lamp, power)
  const laid = layWires(
    power,
    channels,
    lamp.boards.map((b) => b.id),
  )
  const runs = [laid.main, ...laid.groups, ...laid.channels.flat()]
  const assumed = assumptions.length > 0
  const parts = [
    ...protectionParts(power),
    ...driverParts(power, channels),
    ...wireParts([laid.main, ...laid.groups], laid.channels, channels),
    ...contactParts(power, runs),
    ...holderParts(runs),
    ...switchParts(power),
    ...relayParts(power, channels),
    ...supplyParts(power),
    ...fuseParts(runs),
  ]
  return assumed ? parts.map((p) => ({ ...p, assumed })) : parts
}

const PIECE = { name: null, amount: 1, unit: 'piece', material: null, mass: null } as const

function protectionParts({ protection }: Power): PlainPart[] {
  const { cutOut, foldBack, sensor } = protection ?? {}
  const row = { ...PIECE, step: 'protection' } as const
  const sensorPart: PlainPart = {
    ...{ ...row, key: 'sensor', size: { of: 'sensor' } },
    ...(sensor ? { placeMm: [sensor.xMm, sensor.yMm, 0] as const } : {}),
  }
  return [
    ...(cutOut
      ? [
          {
            ...{ ...row, key: 'cut-out' },
            size: { of: 'cutOut', opensC: cutOut.openC, closesC: cutOut.closeC ?? null } as const,
          },
        ]
      : []),
    ...(foldBack || sensor ? [sensorPart] : []),
  ]
}

function driverParts(power: Power, channels: readonly Channel[]): PlainPart[] {
  return power.drivers.flatMap((d): PlainPart[] => {
    const amount = channels.filter((c) => c.driver.id === d.id).length
    if (amount === 0) return []
    const { kind, inputMinV, inputMaxV, maxOutputA } = d
    return [
      {
        ...{ ...PIECE, key: `driver:${d.id}`, step: 'drivers', name: d.name, amount },
        size: { of: 'driver', kind, inputMinV, inputMaxV, maxOutputA },
        where: d.mounted === 'plate' ? 'lamp' : 'apart',
      },
    ]
  })
}

/**
 * Single conductors by gauge, insulation, colour and run, m, with the allowance: out and back, a link in series alone. Wires to the boards are the
 * lamp's; those to the drivers too where these stand on its plate.
 */
function wireParts(
  feeds: readonly LaidRun[],
  byChannel: readonly LaidRun[][],
  channels: readonly Channel[],
): PlainPart[] {
  const found = new Map<string, { run: LaidRun; colour: string; laidM: number; where: 'lamp' | 'apart' }>()
  const lay = (run: LaidRun, where: 'lamp' | 'apart') => {
    for (const colour of run.conductors === 2 ? [run.plus, run.minus] : [run.plus]) {
      const key = `wire:${partOf(run)}:${gaugeKey(run.gauge)}:${run.insulationC}C:${colour}${where === 'lamp' && run.part === 'channel' ? ':on-lamp' : ''}`
      const known = found.get(key)
      const laidM = run.lengthMm / 1000
      if (known) known.laidM += laidM
      else found.set(key, { run, colour, laidM, where })
    }
  }
  for (const run of feeds) lay(run, 'apart')
  for (const [i, runs] of byChannel.entries())
    for (const run of runs) {
      const onPlate = channels[i]?.driver.mounted === 'plate'
      lay(run, run.part !== 'channel' || onPlate ? 'lamp' : 'apart')
    }
  return [...found].flatMap(([key, { run, colour, laidM, where }]): PlainPart[] => {
    if (!(laidM > 0)) return []
    const metres = laidM * (1 + WIRE_ALLOWANCE)
    const each = wireGramsPerM(run)
    const insulation = insulationOf(run.insulationC)
    const thickMm = insulationMm(gaugeAreaMm2(run.gauge))
    return [
      {
        ...{
          key,
          step: 'wiring',
          name: null,
          amount: metres,
          unit: 'm',
          material: `Copper, ${insulation.label}`,
          where,
        },
        size: {
          ...{ of: 'wire', gauge: run.gauge, colour, run: partOf(run), insulationC: run.insulationC, laidM },
          ...{ copperG: metres * each.copperG, insulationG: metres * each.insulationG },
        },
        mass: {
          ...{ g: metres * (each.copperG + each.insulationG), basis: 'typical' },
          source: `${COPPER_WIRE.source}; insulation taken as ${thickMm} mm of ${insulation.densityKgM3} kg/m³ (EN 50525: memory)`,
        },
      },
    ]
  })
}

const partOf = ({ part }: LaidRun): 'main' | 'group' | 'channel' | 'board' => (part === 'link' ? 'board' : part)

/**
 * Copper and insulation of one metre of a single wire, g. Copper: its section by ASTM B258 or as stated × 8.96 g/cm³. Insulation: π (d t + t²) about
 * strands of 1.15 times a solid wire's diameter; thickness and density typical (src/library/wireBuild.ts).
 */
export function wireGramsPerM({ gauge, insulationC }: Pick<LaidRun, 'gauge' | 'insulationC'>): {
  copperG: number
  insulationG: number
} {
  const mm2 = gaugeAreaMm2(gauge)
  const d = STRANDED * Math.sqrt((4 * mm2) / Math.PI)
  const t = insulationMm(mm2)
  return {
    copperG: gramsOf(1000 * mm2, COPPER_WIRE.densityKgM3),
    insulationG: gramsOf(1000 * Math.PI * (d * t + t * t), insulationOf(insulationC).densityKgM3),
  }
}

function contactParts({ harness }: Power, runs: readonly LaidRun[]): PlainPart[] {
  const amount = runs.reduce((sum, r) => sum + r.conductors * r.connectors, 0)
  if (amount === 0) return []
  const { connectorMaxA: maxA = null, connectorMaxV: maxV = null } = harness
  return [{ ...PIECE, key: 'contacts', step: 'wiring', amount, size: { of: 'contacts', maxA, maxV }, where: 'apart' }]
}

/** Runs with a fuse, by rating and kind. */
function fusesOf(runs: readonly LaidRun[]) {
  const found = new Map<string, { fuse: NonNullable<LaidRun['fuse']>; amount: number }>()
  for (const { fuse } of runs) {
    if (!fuse) continue
    const key = `${keyNumber(fuse.amps)}A:${keyNumber(fuse.volts)}V:${fuse.kind ?? 'blade'}`
    const known = found.get(key)
    if (known) known.amount++
    else found.set(key, { fuse, amount: 1 })
  }
  return [...found].map(([key, { fuse, amount }]) => ({ key, fuse, amount }))
}

const fuseSize = <K extends 'fuse' | 'fuseHolder'>(of: K, { amps, volts, kind }: NonNullable<LaidRun['fuse']>) => ({
  of,
  amps,
  volts,
  kind: kind ?? null,
})

const fuseParts = (runs: readonly LaidRun[]): PlainPart[] =>
  fusesOf(runs).map(({ key, fuse, amount }) => ({
    ...{ ...PIECE, key: `fuse:${key}`, step: 'channels', amount, where: 'apart' },
    size: fuseSize('fuse', fuse),
  }))

/** One for each fuse: common practice, no source. */
const holderParts = (runs: readonly LaidRun[]): PlainPart[] =>
  fusesOf(runs).map(({ key, fuse, amount }) => ({
    ...{ ...PIECE, key: `fuse-holder:${key}`, step: 'wiring', amount, where: 'apart', assumed: true },
    size: fuseSize('fuseHolder', fuse),
  }))

function switchParts({ harness: { contactor } }: Power): PlainPart[] {
  if (!contactor) return []
  const row = { ...PIECE, step: 'wiring', where: 'apart' } as const
  const { maxA, maxV = null, breaksA = null, prechargeOhm: ohm } = contactor
  const precharge: PlainPart[] = ohm === undefined ? [] : [{ ...row, key: 'precharge', size: { of: 'precharge', ohm } }]
  return [{ ...row, key: 'contactor', size: { of: 'contactor', maxA, maxV, breaksA } }, ...precharge]
}

/** One for each group that has boards and a relay. */
function relayParts({ groups }: Power, channels: readonly Channel[]): PlainPart[] {
  const used = new Set(channels.map((c) => c.group.id))
  return groups.flatMap(({ id, name, relay }): PlainPart[] => {
    if (!relay || !used.has(id)) return []
    const { maxA, maxV = null, breaksA = null } = relay
    return [
      {
        ...{ ...PIECE, key: `relay:${id}`, step: 'wiring', name, where: 'apart' },
        size: { of: 'relay', maxA, maxV, breaksA },
      },
    ]
  })
}

function supplyParts({ supply }: Power): PlainPart[] {
  const row = { ...PIECE, step: 'supply', where: 'apart' } as const
  if (supply.kind === 'fixed') {
    const { volts, maxA } = supply
    return [{ ...row, key: 'supply', name: supply.name, size: { of: 'supply', volts, maxA } }]
  }
  const { chemistry, cellAh, series, parallel, cellGram, protectionA } = supply
  const amount = series * parallel
  const guard: PlainPart[] =
    protectionA === undefined
      ? []
      : [{ ...row, key: 'pack-protection', size: { of: 'packProtection', amps: protectionA } }]
  return [
    {
      ...{ ...row, key: 'cell', name: supply.name, amount },
      size: { of: 'cell', chemistry, cellAh, series, parallel },
      mass: { g: amount * cellGram, basis: 'stated', source: 'as stated, cells alone' },
    },
    ...guard,
  ]
}
