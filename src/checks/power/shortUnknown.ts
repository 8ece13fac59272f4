// A supply of which nobody knows what it gives into a short circuit: what can't be judged then is said, never passed over.
import type { Lamp } from '../../lamp/schema.ts'
import { powerOf } from '../../library/typicalPower.ts'
import { opensAtA } from '../../power/fuse.ts'
import { type Finding, partOf } from '../finding.ts'
import type { PowerParts } from '../powerParts.ts'
import { amps, ampsAtMost, plain } from '../words.ts'

export function shortUnknown(lamp: Lamp, { faults, wiring, worst }: PowerParts): Finding[] {
  if (!lamp.power || lamp.boards.length === 0 || faults.supplyA !== null) return []
  const { supply } = powerOf(lamp).value
  const fixed = supply.kind === 'fixed' ? supply : null
  const fused = wiring.filter((w) => w.fuse)
  // A supply that limits itself may give no more into a short circuit than it may give at all.
  const deaf = fixed ? fused.filter((w) => w.fuse && opensAtA(w.fuse) > fixed.maxA) : []
  const fuseWords = deaf.flatMap((w) =>
    w.fuse ? [`${w.part} fuse of ${amps(w.fuse.amps)}, sure from ${amps(opensAtA(w.fuse))} on`] : [],
  )
  const never =
    deaf.length > 0
      ? ` If it limits itself to its ${ampsAtMost(fixed?.maxA ?? 0)}, nothing opens the ${[...new Set(fuseWords)].join(', nor the ')}.`
      : ''
  const most =
    fixed && fixed.milliohm > 0
      ? ` Its resistance alone would let ${amps(worst.fullV / (fixed.milliohm / 1000))} through.`
      : ''
  return [
    {
      rule: 'short-circuit-unknown',
      severity: 'warning',
      title: `What “${supply.name}” gives into a short circuit is not known: whether the fuses can break it, and whether it opens them at all, is not judged.${never}`,
      why: `${fixed ? `The document names no short-circuit current.${most} A battery or transformer gives many times its rating and can burst a fuse; an electronic supply often gives little more than its rating, and a fault of ${plain(worst.fullV * fixed.maxA)} W goes on without a fuse that opens.` : 'The document gives its cells no resistance, so nothing holds the current down.'} Not judged: breaking capacity of fuses, what opens them, contacts in a fault. A driver that fails short is judged by the resistance that is known.`,
      cure: fixed
        ? 'Take it from the supply’s data sheet (“short-circuit current”, “overload”), or measure the resistance, and enter it; fuse for a current that it really gives.'
        : 'Enter the resistance of a cell from its data sheet, or measure it.',
      place: { kind: 'part', part: 'heat' },
      parts: [partOf({ kind: 'supply' }), ...fused.map((w) => partOf({ kind: 'fuse', id: w.id }))],
    },
  ]
}
