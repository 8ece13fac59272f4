// Where a finding's place lies on the plan.
import type { Place } from '../../checks/finding.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { mappedWords } from '../../library/lensSystem.ts'
import { emitterOf, reachOf } from './model/hit.ts'

export interface FocusedPlace {
  xMm: number
  yMm: number
  radiusMm: number
  words: string
}

const ON: Record<Exclude<Extract<Place, { kind: 'point' }>['on'], 'lens'>, string> = {
  wall: 'on the tunnel’s wall, above this spot',
  face: 'on the face',
  front: 'in front of the lamp, above this spot',
  inside: 'inside the lamp, above this spot',
}

const onWords = (lamp: Lamp, { on, of }: Extract<Place, { kind: 'point' }>): string =>
  on === 'lens' ? `on ${of === undefined ? mappedWords(lamp) : `“${of}”`}, above this spot` : ON[on]

export function placeOnPlan(lamp: Lamp, place: Place | null): FocusedPlace | null {
  if (!place) return null
  switch (place.kind) {
    case 'board': {
      const b = lamp.boards[place.boardIndex]
      const type = lamp.boardTypes.find((t) => t.id === b?.type)
      return b && type ? { xMm: b.xMm, yMm: b.yMm, radiusMm: reachOf(type.outline), words: `board ${b.id}` } : null
    }
    case 'emitter': {
      const b = lamp.boards[place.boardIndex]
      const e = b && emitterOf(lamp, b.id, place.siteIndex)
      return e
        ? { xMm: e.xMm, yMm: e.yMm, radiusMm: e.radiusMm, words: `emitter ${place.siteIndex + 1} of board ${b.id}` }
        : null
    }
    case 'point':
      return { xMm: place.xMm, yMm: place.yMm, radiusMm: 4, words: onWords(lamp, place) }
    case 'part':
      return null
  }
}
