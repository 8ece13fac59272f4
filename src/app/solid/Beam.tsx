import { useEffect, useMemo } from 'react'
import {
  AdditiveBlending,
  BackSide,
  BoxGeometry,
  DataTexture,
  DataUtils,
  GLSL3,
  HalfFloatType,
  LinearFilter,
  NormalBlending,
  RedFormat,
  ShaderMaterial,
  Vector3,
} from 'three'
import fragment from '../../../shaders/views/beam.frag.glsl?raw'
import vertex from '../../../shaders/views/beam.vert.glsl?raw'
import type { ProfilePlot } from '../../job/beam/sheet.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { useDisplay } from '../store/display.ts'
import { beamTable, mouthOf } from './model/beam.ts'

const ON_DARK = new Vector3(1, 0.72, 0.37)
const OVER_LIGHT = new Vector3(0.86, 0.5, 0.1)

/** Length of the beam drawn, mm. */
const lengthFor = (zMm: number, radiusMm: number) => Math.max(2.2 * zMm, 7 * radiusMm)

export function Beam({
  lamp,
  profile,
  stale,
  cut,
}: {
  lamp: Lamp
  profile: ProfilePlot
  stale: boolean
  cut: boolean
}) {
  const mouth = mouthOf(lamp)
  const isLight = useDisplay((s) => s.theme === 'light')
  const made = useMemo(() => {
    const table = beamTable(profile, mouth.radiusMm, lengthFor(mouth.zMm, mouth.radiusMm))
    // Half floats: every WebGL 2 can filter them, but not every one filters floats.
    const half = Uint16Array.from(table.values, (v) => DataUtils.toHalfFloat(Math.min(v, 60_000)))
    const texture = new DataTexture(half, table.columns, table.rows, RedFormat, HalfFloatType)
    texture.minFilter = LinearFilter
    texture.magFilter = LinearFilter
    texture.needsUpdate = true
    const wide = 2 * (table.mouthMm + table.lengthMm * table.spread)
    const box = new BoxGeometry(wide, wide, table.lengthMm).translate(0, 0, mouth.zMm + table.lengthMm / 2)
    const material = new ShaderMaterial({
      glslVersion: GLSL3,
      vertexShader: vertex,
      fragmentShader: fragment,
      uniforms: {
        uFluence: { value: texture },
        uMouthZMm: { value: mouth.zMm },
        uMouthMm: { value: table.mouthMm },
        uLengthMm: { value: table.lengthMm },
        uSpread: { value: table.spread },
        uGain: { value: 0.9 },
        // No tone mapping: the shader's result is added to the picture as it is.
        uLight: { value: ON_DARK },
        uCut: { value: 0 },
      },
      transparent: true,
      blending: AdditiveBlending,
      depthWrite: false,
      side: BackSide,
    })
    return { texture, box, material }
  }, [profile, mouth.radiusMm, mouth.zMm])
  useEffect(
    () => () => {
      made.texture.dispose()
      made.box.dispose()
      made.material.dispose()
    },
    [made],
  )
  // On light ground the light in air is laid over it, darker: nothing can be added to white.
  made.material.blending = isLight ? NormalBlending : AdditiveBlending
  made.material.premultipliedAlpha = isLight
  made.material.uniforms['uLight']!.value = isLight ? OVER_LIGHT : ON_DARK
  made.material.uniforms['uGain']!.value = stale ? 0.3 : 0.9
  made.material.uniforms['uCut']!.value = cut ? 1 : 0
  return <mesh geometry={made.box} material={made.material} renderOrder={6} />
}
