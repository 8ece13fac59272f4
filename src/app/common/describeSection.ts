// Describes the lamp for screen readers.

import { counted } from '../../checks/words.ts'
import type { Lamp, Tunnel } from '../../lamp/schema.ts'
import { faceText, lengthWords } from '../../report/faceText.ts'
import { lengthText } from './lengthText.ts'
import { lensWords } from './lensProfile.ts'
import { focusOf } from './pieceCut.ts'
import { shapeOf } from './stretchEdits.ts'
import type { UnitSystem } from './unitSystem.ts'

/** Text alternative of the section. */
export function describeSection(lamp: Lamp, system: UnitSystem = 'metric'): string {
  const { face, tunnel, lens } = lamp
  const parts = [`${lamp.name}, cut along its axis, light going from left to right.`]
  parts.push(`${faceText(face, lengthWords(system))}, with ${counted(lamp.boards.length, 'board')}.`)
  if (tunnel) {
    parts.push(
      `Tunnel ${shapeWords(tunnel)}, from ${sizeText(tunnel.inMm, tunnel.inHeightMm, system)} at ${lengthText(tunnel.zInMm, system)} to ${sizeText(tunnel.outMm, tunnel.outHeightMm, system)} at ${lengthText(tunnel.zOutMm, system)} from the face.`,
    )
    const joints = tunnel.joints?.length ?? 0
    if (joints > 0) parts.push(`It has ${joints + 1} stretches.`)
  } else parts.push('No tunnel.')
  if (lens) {
    const behind = focusOf(lens)[2]
    parts.push(
      `${lensWords(lens)}, ${sizeText(lens.diameterMm, lens.heightMm, system)}, at ${lengthText(lens.zMm, system)}; its focus lies ${lengthText(Math.abs(behind), system)} ${behind < 0 ? 'behind' : 'before'} the face.`,
    )
  } else parts.push('No lens.')
  for (const e of lamp.elements ?? []) parts.push(`${e.name} at ${lengthText(e.zMm, system)}.`)
  return parts.join(' ')
}

const sizeText = (wideMm: number, highMm: number | undefined, system: UnitSystem): string =>
  highMm === undefined ? lengthText(wideMm, system) : `${lengthText(wideMm, system)} × ${lengthText(highMm, system)}`

const shapeWords = (tunnel: Tunnel): string =>
  shapeOf(tunnel) === 'polygon' ? `of ${tunnel.sides} sides` : shapeOf(tunnel) === 'round' ? 'round' : 'rectangular'
