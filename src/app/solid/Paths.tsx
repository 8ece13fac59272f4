import { useEffect, useMemo } from 'react'
import { AdditiveBlending, BufferAttribute, BufferGeometry, type Plane } from 'three'
import type { Paths as TracedPaths } from '../../job/beam/sheet.ts'
import { pathSegments } from './model/mesh.ts'

export function Paths({ paths, stale, planes }: { paths: TracedPaths; stale: boolean; planes: Plane[] }) {
  const geometry = useMemo(() => {
    const { position, colour } = pathSegments(paths, [])
    const made = new BufferGeometry()
    made.setAttribute('position', new BufferAttribute(position, 3))
    made.setAttribute('color', new BufferAttribute(colour, 3))
    return made
  }, [paths])
  useEffect(() => () => geometry.dispose(), [geometry])
  return (
    <lineSegments geometry={geometry} renderOrder={5} frustumCulled={false}>
      <lineBasicMaterial
        vertexColors
        transparent
        opacity={stale ? 0.08 : 0.17}
        blending={AdditiveBlending}
        depthWrite={false}
        clippingPlanes={planes}
        toneMapped={false}
      />
    </lineSegments>
  )
}
