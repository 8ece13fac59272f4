// Current above the emitter's maximum. One finding for all boards of a kind at the same current.
import { placeEmitters } from '../../lamp/place.ts'
import type { Lamp } from '../../lamp/schema.ts'
import type { Finding } from '../finding.ts'
import { amps, ampsAtMost, counted } from '../words.ts'

export function overCurrent(lamp: Lamp): Finding[] {
  const groups = new Map<string, { boards: Set<number>; name: string; currentA: number; maxA: number }>()
  for (const p of placeEmitters(lamp)) {
    if (p.currentA <= p.emitter.maxCurrentA) continue
    const key = `${p.emitter.id}|${p.currentA}`
    const group = groups.get(key) ?? {
      boards: new Set<number>(),
      name: p.emitter.name,
      currentA: p.currentA,
      maxA: p.emitter.maxCurrentA,
    }
    group.boards.add(p.boardIndex)
    groups.set(key, group)
  }
  return [...groups.values()].map(({ boards, name, currentA, maxA }) => ({
    rule: 'over-current',
    severity: 'severe',
    title: `${counted(boards.size, 'board')} at ${amps(currentA)}: the emitter “${name}” bears ${ampsAtMost(maxA)} at most.`,
    why: 'Over its maximum current an emitter overheats and dies, and its flux there is in no table. The limit is the emitter’s own, from its data.',
    cure: `Set the current to ${ampsAtMost(maxA)} or less, or use more emitters.`,
    place: { kind: 'board', boardIndex: [...boards][0]! },
  }))
}
