import { useEffect, useMemo } from 'react'
import { AdditiveBlending, BufferAttribute, BufferGeometry, NormalBlending, type Plane } from 'three'
import type { Paths as TracedPaths } from '../../job/beam/sheet.ts'
import { useDisplay } from '../store/display.ts'
import { pathSegments } from './model/mesh.ts'

export function Paths({ paths, stale, planes }: { paths: TracedPaths; stale: boolean; planes: Plane[] }) {
  const theme = useDisplay((s) => s.theme)
  const geometry = useMemo(() => {
    const { position, colour } = pathSegments(paths, [], theme)
    const made = new BufferGeometry()
    made.setAttribute('position', new BufferAttribute(position, 3))
    made.setAttribute('color', new BufferAttribute(colour, 3))
    return made
  }, [paths, theme])
  useEffect(() => () => geometry.dispose(), [geometry])
  return (
    <lineSegments geometry={geometry} renderOrder={5} frustumCulled={false}>
      <lineBasicMaterial
        vertexColors
        transparent
        opacity={stale ? 0.08 : 0.17}
        // On light ground nothing can be added to white.
        blending={theme === 'light' ? NormalBlending : AdditiveBlending}
        depthWrite={false}
        clippingPlanes={planes}
        toneMapped={false}
      />
    </lineSegments>
  )
}
