// Layout faults as text: one line for all of them, a sentence for each, a label at the place.

import type { Lamp } from '../../../lamp/schema.ts'
import type { LayoutFault, LayoutFaultKind } from '../../../layout/clearance.ts'

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

export function faultSentence(lamp: Lamp, f: LayoutFault): string {
  const names = f.boards.map((i) => lamp.boards[i]?.id ?? '?')
  const both = names.join(' and ')
  const first = names[0]!
  switch (f.kind) {
    case 'overlap':
      return `${both} overlap by ${mm(-f.gapMm)}.`
    case 'clearance':
      return `${both} are ${mm(f.gapMm)} apart; ${mm(f.wantedMm)} are wanted.`
    case 'overhang':
      return `${first} hangs ${mm(-f.gapMm)} over the edge of the face.`
    case 'margin':
      return `${first} is ${mm(f.gapMm)} from the edge; ${mm(f.wantedMm)} are wanted.`
    case 'keepOut': {
      const why = lamp.face.keepOuts[f.keepOut ?? -1]?.why
      const what = why ? `the keep-out “${why}”` : 'a keep-out'
      if (f.gapMm < 0) return `${first} covers ${what} by ${mm(-f.gapMm)}.`
      return `${first} is ${mm(f.gapMm)} from ${what}; ${mm(f.wantedMm)} are wanted.`
    }
    case 'emitterOff':
      return `Emitter ${(f.site ?? 0) + 1} of ${first} is ${mm(-f.gapMm)} beside its board.`
    case 'opticsOverlap':
      return names.length > 1
        ? `Optics of ${both} reach into each other by ${mm(-f.gapMm)}.`
        : `Optics on ${first} reach into each other by ${mm(-f.gapMm)}.`
  }
}

/** The label at the place itself. */
export function faultTag(f: LayoutFault): string {
  switch (f.kind) {
    case 'overlap':
      return `overlap ${mm(-f.gapMm)}`
    case 'overhang':
      return `over the edge ${mm(-f.gapMm)}`
    case 'keepOut':
      return f.gapMm < 0 ? `on keep-out ${mm(-f.gapMm)}` : `gap ${mm(f.gapMm)} of ${mm(f.wantedMm)}`
    case 'emitterOff':
      return `off its board ${mm(-f.gapMm)}`
    case 'opticsOverlap':
      return `optics meet ${mm(-f.gapMm)}`
    case 'clearance':
      return `gap ${mm(f.gapMm)} of ${mm(f.wantedMm)}`
    case 'margin':
      return `edge ${mm(f.gapMm)} of ${mm(f.wantedMm)}`
  }
}

const mm = (v: number): string => {
  const a = Math.abs(v)
  return `${a < 0.095 ? a.toPrecision(1) : a < 9.95 ? Number(a.toFixed(2)) : Number(a.toFixed(1))} mm`
}
