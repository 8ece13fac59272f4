// Wires above their ampacity, insulation that doesn't bear its place, and more voltage drop than allowed.

import type { Lamp } from '../../lamp/schema.ts'
import { powerOf } from '../../library/typicalPower.ts'
import { gaugeInEither } from '../../library/wireGauge.ts'
import type { WireRun } from '../../power/schedule.ts'
import { type Finding, partOf } from '../finding.ts'
import { leftOnReason, type PowerParts } from '../powerParts.ts'
import {
  amps,
  ampsAtMost,
  celsius,
  counted,
  degreesC,
  downThree,
  percentDown,
  percentUp,
  plain,
  upThree,
} from '../words.ts'

const place = { kind: 'part', part: 'heat' } as const
const NAMES = {
  main: { one: 'main run', many: 'main runs' },
  group: { one: 'run to a group', many: 'runs to a group' },
  channel: { one: 'channel run', many: 'channel runs' },
  board: { one: 'run to a board', many: 'runs to a board' },
  link: { one: 'link between boards', many: 'links between boards' },
} as const
const PARTS = ['main', 'group', 'channel', 'board', 'link'] as const

const melts = (w: WireRun): boolean => w.airC >= w.insulationC
/** Of its place at its hottest, left on counted. */
const topC = (w: WireRun): number => Math.max(w.airC, w.leftOnC ?? w.airC)
/** Insulation that does not bear its place is a finding of its own; here such a wire is judged as if its end were cool. */
const bearsA = (w: WireRun): number => (melts(w) ? w.coolBearsA : w.bearsA)
const wiresOf = (runs: readonly WireRun[]): string[] => runs.map((w) => partOf({ kind: 'wire', id: w.id }))

export function wires(lamp: Lamp, { wiring, worst, modes }: PowerParts): Finding[] {
  // Assumed wires give no finding.
  if (!lamp.power) return []
  return [...overCurrent(wiring), ...insulation(wiring, modes), ...drop(lamp, wiring, worst.emptyV)]
}

function overCurrent(wiring: readonly WireRun[]): Finding[] {
  return PARTS.flatMap((part): Finding[] => {
    const hot = wiring.filter((w) => w.part === part && w.amps > bearsA(w))
    const worst = hot.reduce<WireRun | null>((a, b) => (a && a.amps >= b.amps ? a : b), null)
    if (!worst) return []
    const { airC, bundled } = worst
    const where = melts(worst) ? 'even away from the hot plate' : `in air of ${degreesC(airC)}`
    const derated = `${where}${bundled > 3 ? `, ${bundled} conductors in its bundle` : ''}`
    return [
      {
        rule: 'wire-over-current',
        severity: 'severe',
        title: `${counted(hot.length, NAMES[part].one, NAMES[part].many)}: ${amps(worst.amps)} through ${gaugeInEither(worst.gaugeWords)}, which bears ${ampsAtMost(bearsA(worst))}.`,
        why: `The tables permit less with insulation of ${degreesC(worst.insulationC)}, ${derated}: “${worst.mode}”, ${plain(worst.terminalV)} V at the supply. NEC table 310.16, thinner wire by NFPA 79 table 12.5.1, bundles by NEC 310.15(C)(1) (second-hand and memory): fixed wiring; short free leads may carry more.`,
        cure: 'Use thicker wire, loosen the bundle, or share the load over more runs.',
        place,
        parts: wiresOf(hot),
      },
    ]
  })
}

function insulation(wiring: readonly WireRun[], modes: PowerParts['modes']): Finding[] {
  const soft = wiring.filter((w) => topC(w) >= w.insulationC)
  const over = (w: WireRun) => topC(w) - w.insulationC
  const worst = soft.reduce<WireRun | null>((a, b) => (a && over(a) >= over(b) ? a : b), null)
  if (!worst) return []
  const onPlate = worst.part === 'board' || worst.part === 'link'
  const left = worst.leftOnC === null ? '' : `, left on past its limit to ${celsius(worst.leftOnC)}`
  return [
    {
      rule: 'insulation-over-place',
      severity: 'severe',
      title: `${counted(soft.length, 'wire')} with insulation for ${degreesC(worst.insulationC)} ${onPlate ? `on a plate that gets to ${celsius(worst.airC)}${left}` : `in air of ${celsius(worst.airC)}`}.`,
      why: `The insulation softens and bares the copper against the metal of the lamp. The hottest place of the plate in any mode is taken for every lead that ends on it; the limit is the insulation’s own. ${onPlate ? leftOnReason(modes) : ''}`.trimEnd(),
      cure: `Leads with insulation for ${celsius(topC(worst) + 20)} or more (silicone, fluoropolymer), or a cooler plate${left === '' ? '' : '; and a switch that can’t be left on, or a thermal cut-out'}.`,
      place,
      parts: wiresOf(soft),
    },
  ]
}

function drop(lamp: Lamp, wiring: readonly WireRun[], emptyV: number): Finding[] {
  const { allowedDrop } = powerOf(lamp).value.harness
  const main = wiring.filter((w) => w.part === 'main')
  const mainV = main[0]?.dropV ?? 0
  const channels = wiring.filter((w) => w.part === 'channel')
  const feedV = new Map(wiring.flatMap((w) => (w.part === 'group' ? [[w.group, w.dropV] as const] : [])))
  const ownV = (w: WireRun) => w.dropV + (feedV.get(w.group) ?? 0)
  const worst = channels.reduce((most, w) => Math.max(most, ownV(w)), 0)
  const share = (mainV + worst) / emptyV
  if (!(share > allowedDrop)) return []
  return [
    {
      rule: 'drop-over-limit',
      severity: 'warning',
      title: `The wires cost ${upThree(mainV + worst)} V of ${downThree(emptyV)} V, ${percentUp(share)}; ${percentDown(allowedDrop)} is allowed.`,
      why: `${plain(mainV)} V in the main run and ${plain(worst)} V in the worst channel${feedV.size > 0 ? ' and its group’s wires' : ''}, out and back, at the largest current that lasts, as warm as the insulation bears. It is lost as heat, and the drivers run out of headroom sooner.`,
      cure: `Use thicker or shorter wire where most is lost: the ${mainV >= worst ? 'main run' : 'channels'}.`,
      place,
      parts: wiresOf(mainV >= worst ? main : channels.filter((w) => ownV(w) === worst)),
    },
  ]
}
