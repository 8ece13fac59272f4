// More current than the supply may give.
import type { Lamp } from '../../lamp/schema.ts'
import { powerOf } from '../../library/typicalPower.ts'
import { makeSource } from '../../power/supply.ts'
import type { Finding } from '../finding.ts'
import { namesOf, type PowerParts } from '../powerParts.ts'
import { amps } from '../words.ts'

export function packOver(lamp: Lamp, { modes, wiring }: PowerParts): Finding[] {
  if (!lamp.power) return []
  const { supply, harness } = powerOf(lamp).value
  const { maxA } = makeSource(supply)
  const found: Finding[] = []
  const over = modes.filter((m) => m.mostA > maxA)
  const draw = Math.max(...over.map((m) => m.mostA))
  if (over.length > 0) {
    found.push({
      rule: 'pack-over-current',
      severity: 'severe',
      title: `${namesOf(over)} draws up to ${amps(draw)} from a supply that may give ${amps(maxA)}.`,
      why:
        supply.kind === 'pack'
          ? `Cells over their current heat from inside and can catch fire. The limit is the cells’ own (${amps(supply.maxCellA)} each, ${supply.parallel} side by side); the draw is that of the emptiest pack in the run.`
          : 'A supply over its current folds back or fails. The limit is its own.',
      cure:
        supply.kind === 'pack'
          ? `At least ${Math.ceil(draw / supply.maxCellA)} cells side by side, cells that bear more, or less current.`
          : 'A stronger supply, or less current.',
      place: { kind: 'part', part: 'heat' },
    })
  }
  const mainA = wiring.find((w) => w.part === 'main')?.amps ?? 0
  if (harness.contactor && mainA > harness.contactor.maxA) {
    found.push({
      rule: 'contactor-over-current',
      severity: 'severe',
      title: `The contactor is rated ${amps(harness.contactor.maxA)}; ${amps(mainA)} pass it.`,
      why: 'Over its rating, and more so with direct current, contacts weld shut: then nothing switches the lamp off. The current is that of the emptiest supply.',
      cure: 'Use a contactor rated for this direct current and voltage, with the fuse before it.',
      place: { kind: 'part', part: 'heat' },
    })
  }
  return found
}
