// Layout faults as text: one line for all of them, a sentence for each, a label at the place.

import type { Lamp } from '../../../lamp/schema.ts'
import type { LayoutFault, LayoutFaultKind } from '../../../layout/clearance.ts'
import { allInSystem, sizeText } from '../../../num/quantity.ts'
import type { UnitSystem } from '../../../num/unitSystem.ts'

type Words = readonly [one: string, many: string]

const LINE: Record<LayoutFaultKind, Words> = {
  overlap: ['overlap', 'overlaps'],
  overhang: ['over the edge', 'over the edge'],
  keepOut: ['on a keep-out', 'on keep-outs'],
  emitterOff: ['emitter beside its board', 'emitters beside their boards'],
  opticsOverlap: ['pair of optics touching', 'pairs of optics touching'],
  clearance: ['gap too small', 'gaps too small'],
  margin: ['too near the edge', 'too near the edge'],
}
const ORDER = Object.keys(LINE) as LayoutFaultKind[]

const CANNOT_BE: readonly LayoutFaultKind[] = ['overlap', 'overhang', 'emitterOff', 'opticsOverlap']

/** True for what can't be built; false for what is only closer than the clearance. */
export const cannotBe = (f: LayoutFault): boolean => CANNOT_BE.includes(f.kind) || (f.kind === 'keepOut' && f.gapMm < 0)

/** '2 overlaps, 1 over the edge'; worst kinds first. */
export function faultsLine(faults: readonly LayoutFault[]): string {
  if (faults.length === 0) return 'The layout has no faults.'
  const parts = ORDER.flatMap((kind) => {
    const n = faults.filter((f) => f.kind === kind).length
    return n === 0 ? [] : [`${n} ${LINE[kind][n === 1 ? 0 : 1]}`]
  })
  return parts.join(', ')
}

/** Worst kinds first, as in the line. */
export const orderedFaults = (faults: readonly LayoutFault[]): LayoutFault[] =>
  [...faults].sort((a, b) => ORDER.indexOf(a.kind) - ORDER.indexOf(b.kind) || a.gapMm - b.gapMm)

export function faultSentence(lamp: Lamp, f: LayoutFault, system: UnitSystem = 'metric'): string {
  const names = f.boards.map((i) => lamp.boards[i]?.id ?? '?')
  const both = names.join(' and ')
  const first = names[0]!
  switch (f.kind) {
    case 'overlap':
      return allInSystem(`${both} overlap by ${mm(-f.gapMm)}.`, system)
    case 'clearance':
      return allInSystem(`${both} are ${mm(f.gapMm)} apart; ${mm(f.wantedMm)} are wanted.`, system)
    case 'overhang':
      return allInSystem(`${first} hangs ${mm(-f.gapMm)} over the edge of the face.`, system)
    case 'margin':
      return allInSystem(`${first} is ${mm(f.gapMm)} from the edge; ${mm(f.wantedMm)} are wanted.`, system)
    case 'keepOut': {
      const why = lamp.face.keepOuts[f.keepOut ?? -1]?.why
      const what = why ? `the keep-out “${why}”` : 'a keep-out'
      if (f.gapMm < 0) return allInSystem(`${first} covers ${what} by ${mm(-f.gapMm)}.`, system)
      return allInSystem(`${first} is ${mm(f.gapMm)} from ${what}; ${mm(f.wantedMm)} are wanted.`, system)
    }
    case 'emitterOff':
      return allInSystem(`Emitter ${(f.site ?? 0) + 1} of ${first} is ${mm(-f.gapMm)} beside its board.`, system)
    case 'opticsOverlap':
      return allInSystem(
        names.length > 1
          ? `Optics of ${both} reach into each other by ${mm(-f.gapMm)}.`
          : `Optics on ${first} reach into each other by ${mm(-f.gapMm)}.`,
        system,
      )
  }
}

/** The label at the place itself. */
export function faultTag(f: LayoutFault, system: UnitSystem = 'metric'): string {
  switch (f.kind) {
    case 'overlap':
      return allInSystem(`overlap ${mm(-f.gapMm)}`, system)
    case 'overhang':
      return allInSystem(`over the edge ${mm(-f.gapMm)}`, system)
    case 'keepOut':
      return allInSystem(
        f.gapMm < 0 ? `on keep-out ${mm(-f.gapMm)}` : `gap ${mm(f.gapMm)} of ${mm(f.wantedMm)}`,
        system,
      )
    case 'emitterOff':
      return allInSystem(`off its board ${mm(-f.gapMm)}`, system)
    case 'opticsOverlap':
      return allInSystem(`optics meet ${mm(-f.gapMm)}`, system)
    case 'clearance':
      return allInSystem(`gap ${mm(f.gapMm)} of ${mm(f.wantedMm)}`, system)
    case 'margin':
      return allInSystem(`edge ${mm(f.gapMm)} of ${mm(f.wantedMm)}`, system)
  }
}

const mm = (v: number): string => {
  const a = Math.abs(v)
  return sizeText(String(a < 0.095 ? a.toPrecision(1) : a < 9.95 ? Number(a.toFixed(2)) : Number(a.toFixed(1))), a, 3)
}
