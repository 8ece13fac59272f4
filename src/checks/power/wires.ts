// Wires above their ampacity, or with more voltage drop than allowed.
import type { Lamp } from '../../lamp/schema.ts'
import { powerOf } from '../../library/typicalPower.ts'
import type { WireRun } from '../../power/schedule.ts'
import { makeSource, supplyRangeV } from '../../power/supply.ts'
import type { Finding } from '../finding.ts'
import type { PowerParts } from '../powerParts.ts'
import { amps, counted, percent, plain } from '../words.ts'

const place = { kind: 'part', part: 'heat' } as const
const NAMES = { main: 'main run', channel: 'channel run', board: 'run to a board' } as const

export function wires(lamp: Lamp, { wiring }: PowerParts): Finding[] {
  // Assumed wires give no finding.
  if (!lamp.power) return []
  const power = powerOf(lamp).value
  const [, emptyV] = supplyRangeV(makeSource(power.supply))
  const found: Finding[] = []
  for (const part of ['main', 'channel', 'board'] as const) {
    const hot = wiring.filter((w) => w.part === part && w.amps > w.bearsA)
    const worst = hot.reduce<WireRun | null>((a, b) => (a && a.amps >= b.amps ? a : b), null)
    if (!worst) continue
    found.push({
      rule: 'wire-over-current',
      severity: 'severe',
      title: `${counted(hot.length, NAMES[part])}: ${amps(worst.amps)} through ${worst.gaugeWords}, which bears ${amps(worst.bearsA)}.`,
      why: `It gets hotter than its insulation of ${power.harness.insulationC} °C. NEC table 310.16 (second-hand), carried on below 14 AWG with area^0.6 (no source): fixed wiring in air of 30 °C; short free leads may carry more, bundles less.`,
      cure: 'Use thicker wire, or share the load over more runs.',
      place,
    })
  }
  const mainV = wiring.find((w) => w.part === 'main')?.dropV ?? 0
  const channels = wiring.filter((w) => w.part === 'channel')
  const worst = channels.reduce((most, w) => Math.max(most, w.dropV), 0)
  const share = (mainV + worst) / emptyV
  if (share > power.harness.allowedDrop) {
    found.push({
      rule: 'drop-over-limit',
      severity: 'warning',
      title: `The wires cost ${plain(mainV + worst)} V of ${plain(emptyV)} V, ${percent(share)}; ${percent(power.harness.allowedDrop)} is allowed.`,
      why: `${plain(mainV)} V in the main run and ${plain(worst)} V in the worst channel, out and back, at the emptiest supply, as warm as the insulation bears. It is lost as heat, and the drivers run out of headroom sooner.`,
      cure: `Use thicker or shorter wire where most is lost: the ${mainV >= worst ? 'main run' : 'channels'}.`,
      place,
    })
  }
  return found
}
