// Length and width of a whole lamp.
import { faceReachMm } from '../../lamp/facePlate.ts'
import { apertureReachMm, frontZMm } from '../../lamp/front.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { aboutSectionMm } from '../../lamp/section.ts'
import { coolingOf } from '../../library/typicalPower.ts'

interface Sizes {
  /** From the sink's tips to the foremost part. */
  lengthMm: number
  /** The widest of face, tunnel and lenses. */
  widthMm: number
}

export function sizesOf(lamp: Lamp): Sizes {
  const { tunnel } = lamp
  const { plate, sink } = coolingOf(lamp).value
  const behindMm = plate.thicknessMm + ('heightMm' in sink ? sink.heightMm : 0)
  const inlet = tunnel ? aboutSectionMm(tunnel, tunnel.zInMm) : 0
  return {
    lengthMm: behindMm + frontZMm(lamp),
    widthMm: 2 * Math.max(faceReachMm(lamp.face), apertureReachMm(lamp), inlet),
  }
}
