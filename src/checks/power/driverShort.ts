// A driver that fails and connects its boards to the supply: does anything open?
import type { Lamp } from '../../lamp/schema.ts'
import { powerOf } from '../../library/typicalPower.ts'
import { opensAtA, opensWords } from '../../power/fuse.ts'
import { type Finding, partOf } from '../finding.ts'
import type { PowerParts } from '../powerParts.ts'
import { amps, ampsAtMost, counted, plain } from '../words.ts'

export function driverShort(lamp: Lamp, { worst, wiring }: PowerParts): Finding[] {
  if (!lamp.power) return []
  const { supply } = powerOf(lamp).value
  return worst.channels.flatMap((c): Finding[] => {
    const [id] = c.ids
    const run = wiring.find((w) => w.part === 'channel' && w.channel === id)
    if (!run || !(c.shortedEmitterA > c.maxEmitterA)) return []
    const fuse = run.protectedBy
    if (fuse && c.shortedA > opensAtA(fuse)) return []
    return [
      {
        rule: 'driver-short',
        severity: 'severe',
        title: `A driver of ${counted(c.ids.length, 'channel')} (${id}) that fails short puts ${amps(c.shortedEmitterA)} through an emitter that bears ${ampsAtMost(c.maxEmitterA)}, and ${fuse ? `the ${fuse.at} fuse of ${amps(fuse.amps)} stays whole` : 'no fuse opens'}.`,
        why: `Drivers often fail as a short circuit. The full supply of ${plain(worst.fullV)} V then stands across the boards, ${amps(c.shortedA)} through them, held by ${supply.kind === 'fixed' && supply.shortA !== undefined ? 'what the supply gives into a short circuit and the resistance of wires and strings' : 'the resistance of cells, wires and strings'} alone, for as long as nothing opens.${fuse ? ` ${opensWords(fuse)}.` : ''}`,
        cure: `${run.fuse ? 'A smaller fuse' : 'A fuse'} in each channel, more emitters in series, or fewer cells; and a thermal cut-out on the plate in the main circuit.`,
        place: { kind: 'part', part: 'heat' },
        parts: [
          partOf({ kind: 'driver', id: c.driverId }),
          ...c.ids.flatMap((x) => [partOf({ kind: 'fuse', id: `${x} in` }), partOf({ kind: 'board', id: x })]),
        ],
      },
    ]
  })
}
