// The scene, loaded on demand. Frames are drawn only when requested: frameloop="demand".
import { Canvas, useThree } from '@react-three/fiber'
import { useEffect } from 'react'
import { Plane, Vector3 } from 'three'
import { useDanger } from '../store/danger.ts'
import { offerPicture, saveCanvases } from '../store/picture.ts'
import { design, result, useDesign, useResult } from '../store/stores.ts'
import { Beam } from './Beam.tsx'
import { currentOrbit } from './gestures/orbit.ts'
import { KeepClear } from './KeepClear.tsx'
import { eyeOf, FIELD_OF_VIEW_DEG } from './model/orbit.ts'
import { Boards, Emitters, FacePlate, PieceBody, TunnelWall } from './Parts.tsx'
import { Paths } from './Paths.tsx'
import { solid, useSolid } from './state.ts'

/** Clips x < 0, the half nearer to a camera that sees the light going to the right. */
const CUT = [new Plane(new Vector3(1, 0, 0), 0)]
const WHOLE: Plane[] = []

export default function SolidScene({ onLost }: { onLost(): void }) {
  return (
    <Canvas
      frameloop="demand"
      dpr={[1, 2]}
      gl={{ antialias: true, alpha: true }}
      camera={{ fov: FIELD_OF_VIEW_DEG, near: 5, far: 200_000 }}
      onCreated={({ gl }) => {
        gl.localClippingEnabled = true
        gl.domElement.addEventListener('webglcontextlost', onLost, { once: true })
      }}
    >
      <Eye />
      <Picture />
      <hemisphereLight args={['#dfe9ec', '#20282c', 1.6]} />
      <directionalLight position={[-600, 900, 700]} intensity={1.5} />
      <Lamp />
    </Canvas>
  )
}

/** Subscribes to the orbit, the lamp and the size of the picture, outside React. */
function Eye() {
  const camera = useThree((s) => s.camera)
  const invalidate = useThree((s) => s.invalidate)
  const size = useThree((s) => s.size)
  useEffect(() => {
    const place = () => {
      const orbit = currentOrbit({ clientWidth: size.width, clientHeight: size.height })
      camera.position.set(...eyeOf(orbit))
      camera.lookAt(...orbit.atMm)
      camera.near = Math.max(1, orbit.distanceMm / 200)
      camera.far = orbit.distanceMm * 40
      camera.updateProjectionMatrix()
      invalidate()
    }
    place()
    const leave = [solid.subscribe(place), design.store.subscribe(place), result.subscribe(() => invalidate())]
    return () => {
      for (const l of leave) l()
    }
  }, [camera, invalidate, size])
  return null
}

/** The picture is drawn anew when it is taken: a browser keeps what WebGL has drawn no longer than a frame. */
function Picture() {
  const { gl, scene, camera } = useThree()
  useEffect(
    () =>
      offerPicture(() => {
        gl.render(scene, camera)
        saveCanvases([gl.domElement], 'solid', 'Solid')
      }),
    [gl, scene, camera],
  )
  return null
}

function Lamp() {
  const lamp = useDesign((s) => s.lamp)
  const cutAway = useSolid((s) => s.cutAway)
  const paths = useSolid((s) => s.paths)
  const beam = useSolid((s) => s.beam)
  const traced = useResult((s) => s.sheet?.paths ?? null)
  const profile = useResult((s) => s.sheet?.profile ?? null)
  const stale = useResult((s) => s.marked)
  const outlines = useDanger((s) => s.outlines)
  const planes = cutAway ? CUT : WHOLE
  return (
    <>
      <FacePlate face={lamp.face} planes={planes} />
      <Boards lamp={lamp} planes={planes} />
      <Emitters lamp={lamp} planes={planes} />
      {lamp.tunnel && <TunnelWall tunnel={lamp.tunnel} planes={planes} />}
      {lamp.lens && <PieceBody piece={lamp.lens} planes={planes} />}
      {lamp.elements?.map((e, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: elements have no other name than their place
        <PieceBody key={i} piece={e} planes={planes} />
      ))}
      {paths && traced && <Paths paths={traced} stale={stale} planes={planes} />}
      {beam && profile && <Beam lamp={lamp} profile={profile} stale={stale} cut={cutAway} />}
      {outlines && <KeepClear planes={planes} />}
    </>
  )
}
