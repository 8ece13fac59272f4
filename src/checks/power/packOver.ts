// More current than the supply may give, or than its protection lets through.
import type { Lamp } from '../../lamp/schema.ts'
import { powerOf } from '../../library/typicalPower.ts'
import { makeSource } from '../../power/supply.ts'
import { type Finding, partOf } from '../finding.ts'
import { namesByMost, type PowerParts, whereWords } from '../powerParts.ts'
import { amps, ampsAtMost } from '../words.ts'

const about = { place: { kind: 'part', part: 'heat' }, parts: [partOf({ kind: 'supply' })] } as const

const drawWords = (modes: PowerParts['worst']['modes']): string =>
  `${namesByMost(modes, (m) => m.supplyA.value, amps)} ${modes.length > 1 ? 'draw' : 'draws'}`

export function packOver(lamp: Lamp, { worst }: PowerParts): Finding[] {
  if (!lamp.power) return []
  const { supply } = powerOf(lamp).value
  const { maxA } = makeSource(supply)
  const found: Finding[] = []
  const over = worst.modes.filter((m) => m.supplyA.value > maxA)
  const draw = worst.supplyA.value
  if (over.length > 0) {
    found.push({
      rule: 'pack-over-current',
      severity: 'severe',
      title: `${drawWords(over)} up to ${amps(draw)} from a supply that may give ${ampsAtMost(maxA)}.`,
      why:
        supply.kind === 'pack'
          ? `Cells over their current heat from inside and can catch fire. The limit is the cells’ own (${ampsAtMost(supply.maxCellA)} each, ${supply.parallel} in parallel). Worst: ${whereWords(worst.supplyA, worst.celsius)}.`
          : `A supply over its current folds back or fails. The limit is its own. Worst: ${whereWords(worst.supplyA, worst.celsius)}.`,
      cure:
        supply.kind === 'pack'
          ? `At least ${Math.ceil(draw / supply.maxCellA)} cells in parallel, cells that bear more, or less current.`
          : 'A stronger supply, or less current.',
      ...about,
    })
  }
  const { protectionA } = supply.kind === 'pack' ? supply : {}
  if (protectionA === undefined) return found
  const cut = worst.modes.filter((m) => m.supplyA.value > protectionA)
  if (cut.length > 0) {
    found.push({
      rule: 'protection-over-current',
      severity: 'warning',
      title: `${drawWords(cut)} up to ${amps(draw)}; the protection board lets ${ampsAtMost(protectionA)} through.`,
      why: `It cuts the lamp off in the middle of its use, without a warning, and again at each try. Worst: ${whereWords(worst.supplyA, worst.celsius)}.`,
      cure: 'A protection board that lets more through (no more than the cells bear), or less current.',
      ...about,
    })
  }
  if (protectionA > maxA) {
    found.push({
      rule: 'protection-over-pack',
      severity: 'warning',
      title: `The protection board lets ${ampsAtMost(protectionA)} through; the cells may give ${ampsAtMost(maxA)}.`,
      why: 'Between the two a fault overloads the cells and the board sees nothing wrong.',
      cure: `A protection board for ${ampsAtMost(maxA)} at most.`,
      ...about,
    })
  }
  return found
}
