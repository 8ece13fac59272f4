// Candela from lux on the axis at any distance: the lamp's own trace says by how much E d² falls short there.
import { meterDoubt } from '../../readings/meter.ts'
import { combined, meanOf } from '../../readings/uncertainty.ts'
import type { Fitting } from './fitting.ts'
import type { NearFieldCandela } from './result.ts'

/** So far that no lamp is near any more, mm: 100 km. */
const FAR_MM = 1e8

/**
 * Axial intensity of the built lamp, cd, of each set that was read on the axis: lux times what the lamp as drawn gives in candela over what it gives in lux
 * at that place (both traced backwards). Right at any distance, as far as the lamp is as drawn. Uncertainty: each reading's own, the trace's, the tape's
 * and the meter's scale. Empty: nothing was read on the axis, or the lamp is dark there.
 */
export async function nearFieldCandela(fitting: Fitting): Promise<NearFieldCandela[]> {
  const { data, drawn, readings } = fitting
  const onAxis = data.points.flatMap((p, i) => (p.xMm === 0 && p.yMm === 0 && (drawn.lx[i] ?? 0) > 0 ? [i] : []))
  if (onAxis.length === 0) return []
  const states = [...new Set(onAxis.map((i) => data.points[i]?.state ?? 0))]
  const far = { xMm: 0, yMm: 0, distanceMm: FAR_MM, faces: 'lamp' as const, onWall: false }
  const { lx, se } = await fitting.look(
    { lamp: fitting.lamp, dark: [], wall: 1 },
    states.map((state) => ({ ...far, state })),
  )
  return data.sets.flatMap((set): NearFieldCandela[] => {
    const own = onAxis.filter((i) => data.points[i]?.setId === set.id)
    const at = states.indexOf(data.points[own[0] ?? -1]?.state ?? -1)
    const farCd = (lx[at] ?? 0) * (FAR_MM / 1000) ** 2
    if (!(farCd > 0)) return []
    const cds = own.flatMap((i) => {
      const point = data.points[i]
      const traced = drawn.lx[i] ?? 0
      if (!point || !(point.lx > 0)) return []
      const value = (point.lx * farCd) / traced
      return [{ value, u: value * combined([point.u / point.lx, (drawn.se[i] ?? 0) / traced]) }]
    })
    if (cds.length === 0) return []
    const mean = meanOf(cds)
    const nearest = Math.min(...own.map((i) => data.points[i]?.distanceMm ?? FAR_MM))
    const tape = (2 * (set.distanceDoubtMm ?? TAPE_MM)) / nearest
    const shared = combined([meterDoubt(set.meter ?? readings.meter).scale, tape, (se[at] ?? 0) / (lx[at] ?? 1)])
    const shortBy = own.map((i) => ((drawn.lx[i] ?? 0) * ((data.points[i]?.distanceMm ?? 0) / 1000) ** 2) / farCd)
    return [
      {
        set: set.id,
        value: mean.value,
        u: combined([mean.u, mean.value * shared]),
        inverseSquareShare: Math.min(...shortBy),
      },
    ]
  })
}

/** Of a distance that is only stated. As points.ts has it for a wall. */
const TAPE_MM = 20
