// The hot spots on the lens and on the other elements against their materials' limits. Most light passes; a speck of dust, a finger mark or a scratch absorbs all of it.
import { upperKWm2 } from '../../hazard/discs.ts'
import { labelOf, mappedElement, unmappedElements } from '../../lamp/assembly.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { dirtTemperatureC, lostKWm2 } from '../../library/heatBalance.ts'
import { criticalAt } from '../../library/ignition.ts'
import { materialOfPiece } from '../../library/lensMaterial.ts'
import { elementWords } from '../../library/lensSystem.ts'
import type { LensMaterialRow } from '../../library/materials.ts'
import type { HotSpot } from '../../run/figure.ts'
import type { Finding } from '../finding.ts'
import type { SheetParts } from '../parts.ts'
import { celsius, degreesC, hotterBy, kWm2, kWm2Plain, mm } from '../words.ts'

export function lensHot(lamp: Lamp, { hotSpots, elements }: SheetParts): Finding[] {
  const mapped = mappedElement(lamp)
  const others = unmappedElements(lamp).map((piece, i) => ({ piece, spot: elements?.[i]?.spot, of: labelOf(piece) }))
  const all = [...(mapped ? [{ piece: mapped, spot: hotSpots.lens }] : []), ...others]
  return all.flatMap(({ piece, spot, ...place }) => {
    const material = materialOfPiece(piece)
    if (!spot || !material) return []
    const at: OnPiece = { who: elementWords(piece), spot, upper: upperKWm2(spot), place: { ...onLens(spot), ...place } }
    const { ambientC } = lamp.reading
    return [...passesLimit(at, material, ambientC), ...cracks(at, material, ambientC)]
  })
}

interface OnPiece {
  who: string
  spot: HotSpot
  upper: number
  place: Finding['place']
}

const onLens = ({ xMm, yMm, zMm }: HotSpot) => ({ kind: 'point', xMm, yMm, zMm, on: 'lens' }) as const

function passesLimit({ who, spot, upper, place }: OnPiece, material: LensMaterialRow, ambientC: number): Finding[] {
  if (material.keepBelowC === null) return []
  const softens = lostKWm2(material.keepBelowC, { ambientC })
  if (upper < softens) return []
  const igniting = material.ignites
  const ignitesKWm2 = igniting && criticalAt(igniting, ambientC)
  const lights = ignitesKWm2 !== null && upper >= ignitesKWm2
  return [
    {
      rule: 'lens-hot',
      severity: lights ? 'severe' : 'warning',
      title: `Up to ${kWm2(upper)} on ${who}, over a disc of ${mm(spot.discMm)}: ${lights ? 'enough to light it where it is dirty' : `dirt on it gets to some ${celsius(dirtTemperatureC(upper, ambientC))}`}.`,
      why: `A clean one passes most of this, but a dark speck takes it all in. ${material.label} should stay below ${degreesC(material.keepBelowC)}, which ${kWm2Plain(softens)} hold a black patch at (radiation and 5 W/m²K to still air, on one side). ${material.sources.temperature}${igniting && ignitesKWm2 !== null ? ` It can ignite from ${kWm2Plain(ignitesKWm2)} on: ${igniting.source}.` : ''}`,
      cure: 'Keep it clean, spread the light over more of it, or move it to where the light is wider. Feel it (lamp off) after the first ten minutes.',
      place,
    },
  ]
}

/** A glass doesn't soften in a lamp; it cracks where one place is much hotter than the rest, which is taken as cold as the air. */
function cracks({ who, spot, upper, place }: OnPiece, material: LensMaterialRow, ambientC: number): Finding[] {
  const { label, cracksFromK, sources } = material
  const hotterK = dirtTemperatureC(upper, ambientC) - ambientC
  if (cracksFromK === null || hotterK <= cracksFromK) return []
  return [
    {
      rule: 'lens-hot',
      severity: 'warning',
      title: `Up to ${kWm2(upper)} on ${who}, over a disc of ${mm(spot.discMm)}: dirt on it gets some ${hotterBy(hotterK)} hotter than the rest, and the glass can crack.`,
      why: `A clean one passes most of this, but a dark speck takes it all in. ${label}: ${sources.temperature}`,
      cure: 'Keep it clean and its edge free of chips and clamps, spread the light over more of it, and keep everybody out from under it.',
      place,
    },
  ]
}
