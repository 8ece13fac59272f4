// What the pictures give: exposures joined, shading, lux over the wall. Pure; each step is done again only when what it is made of has changed.
import type { Meter } from '../../lamp/readings.ts'
import { type ExposureData, logExposure } from './exif.ts'
import type { Point } from './homography.ts'
import { type Merging, mergeExposures } from './merge.ts'
import type { Picture } from './pixels.ts'
import { cosineShading, FOCAL_35_MM, fieldShading, type ShadingResult } from './shading.ts'
import { mapWall, type WallResult } from './wallMap.ts'

/** One picture that was taken, as it was exposed. */
export interface Shot {
  name: string
  picture: Picture
  exposure: ExposureData
}

/** The exposures as one map of relative light; refused where one of several has no time, or two are exposed alike. */
export function joinShots(shots: readonly Shot[]): Merging {
  const exposures = shots.map(({ picture, exposure }) => ({ picture, logExposure: logExposure(exposure) ?? 0 }))
  const untimed = shots.filter((s) => logExposure(s.exposure) === null)
  if (shots.length > 1 && untimed.length > 0)
    return { ok: false, why: `Of several exposures each needs its time: ${untimed.map((s) => s.name).join(', ')}.` }
  const logs = exposures.map((e) => e.logExposure)
  if (new Set(logs.map((log) => log.toFixed(3))).size < logs.length)
    return { ok: false, why: 'Two pictures were exposed alike: remove one, or correct its time.' }
  return mergeExposures(exposures)
}

/** By the even field where there is one; otherwise by the lens's focal length, as it is written in the picture or usual. */
export function shadingOf(shots: readonly Shot[], field: Shot | null, merging: Merging): ShadingResult {
  const [first] = shots
  if (!merging.ok || !first) return { ok: false, why: '' }
  const { columns, rows } = merging.merged
  if (!field) return { ok: true, shading: cosineShading(first.exposure.focal35Mm ?? FOCAL_35_MM, columns / rows) }
  if (Math.abs(field.picture.columns / field.picture.rows / (columns / rows) - 1) > 0.01)
    return { ok: false, why: 'The even field must be taken as the pictures were: same camera, same way up, uncropped.' }
  return fieldShading(field.picture, merging.merged.response)
}

export interface WallFields {
  marks: readonly Point[]
  meterAt: Point
  widthMm: number
  heightMm: number
  distanceM: number
  readLx: number | null
  cells: number
}

/** Null: something is still to be given. */
export function wallOf(merging: Merging, shading: ShadingResult, fields: WallFields, meter?: Meter): WallResult | null {
  if (!merging.ok || !shading.ok || fields.readLx === null) return null
  const { meterAt, readLx, ...order } = fields
  return mapWall({
    ...order,
    merged: merging.merged,
    shading: shading.shading,
    reading: { at: meterAt, lx: readLx },
    meter,
  })
}
