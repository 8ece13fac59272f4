// Fields of a lens, a cover or a film, by its kind. Which piece they belong to stands in the context.

import { farthestWords, pieceReachMm } from '../../lamp/assembly.ts'
import { conicSag } from '../../lamp/body.ts'
import { element, lens } from '../../lamp/lens.ts'
import type { Lens } from '../../lamp/schema.ts'
import { lensFocalMm } from '../../library/lensMaterial.ts'
import type { Piece } from '../common/piece.ts'
import type { UnitSystem } from '../common/unitSystem.ts'
import { formatNumber, type Unit, valueText } from '../common/units.ts'
import { useDesign } from '../store/stores.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { LampChoice, LampNumber } from './fields.tsx'
import { CutForMaterial, LensMaterial } from './LensMaterial.tsx'
import { PiecePlace } from './PiecePlace.tsx'
import { PieceSize } from './PieceSize.tsx'
import { bindNumber, usePiece } from './piece.ts'

const [fresnel, solid, ideal] = lens.options
const [, , , cover, diffuser] = element.options

type FresnelKey = 'zMm' | 'focalMm' | 'thicknessMm' | 'pitchMm' | 'draftDeg' | 'tipShare' | 'designNm'
type SolidKey = 'zMm' | 'radiusMm' | 'conic' | 'thicknessMm'
interface Field<K extends string> {
  key: K
  label: string
  unit: Unit
  step: number
  description: string
}

const Z = { key: 'zMm', label: 'Stands at z', unit: 'mm', step: 1 } as const
const FOCAL = {
  key: 'focalMm',
  label: 'Focal length',
  unit: 'mm',
  step: 1,
  description: 'Longer makes a narrower beam from the same array, and needs a longer lamp',
} as const
const FRESNEL: readonly Field<FresnelKey>[] = [
  { ...Z, description: 'The plane the focal length is measured from; inside the focus the beam widens and evens out' },
  FOCAL,
  {
    key: 'thicknessMm',
    label: 'Sheet thickness',
    unit: 'mm',
    step: 0.1,
    description: 'From the flat side to the valleys of the grooves',
  },
  {
    key: 'pitchMm',
    label: 'Groove pitch',
    unit: 'mm',
    step: 0.05,
    description: 'Coarse grooves show their rings; fine ones lose more at the risers',
  },
  {
    key: 'draftDeg',
    label: 'Riser draft',
    unit: 'deg',
    step: 0.5,
    description: 'Lean of the step between grooves; takes width from the facet',
  },
  {
    key: 'tipShare',
    label: 'Rounded tips',
    unit: 'share',
    step: 0.01,
    description: 'Share of the pitch that scatters instead of bending light',
  },
  { key: 'designNm', label: 'Cut for', unit: 'nm', step: 1, description: 'Wavelength the facets are exact for' },
]
const SOLID: readonly Field<SolidKey>[] = [
  { ...Z, description: 'The plane of the flat side' },
  {
    key: 'radiusMm',
    label: 'Radius of curvature',
    unit: 'mm',
    step: 1,
    description: 'Of the curved side at its middle; focal length is about twice this',
  },
  {
    key: 'conic',
    label: 'Conic constant',
    unit: '',
    step: 0.01,
    description: '0 a sphere, −1 a paraboloid: takes out the blur of a steep lens',
  },
  { key: 'thicknessMm', label: 'Thickness', unit: 'mm', step: 0.5, description: 'At the middle, from the flat side' },
]
const IDEAL: readonly Field<'zMm' | 'focalMm'>[] = [{ ...Z, description: 'The plane of the lens' }, FOCAL]

const WAYS = [
  { key: 'target', name: 'target' },
  { key: 'source', name: 'source' },
] as const

/** All fields of the piece in the context, which is of that kind. */
export function PieceFields({ kind }: { kind: Piece['kind'] }) {
  return (
    <>
      {kind === 'fresnel' && <Fresnel />}
      {kind === 'solid' && <Solid />}
      {kind === 'ideal' && <Ideal />}
      {kind === 'cover' && <Cover />}
      {kind === 'diffuser' && <Film />}
      <PiecePlace isOptical={kind !== 'cover' && kind !== 'diffuser'} />
    </>
  )
}

function InFocus() {
  const system = useUnitSystem()
  const host = usePiece()
  const inFocus = useDesign((s) => {
    const lens = host.read(s.lamp)
    return lens?.kind === 'fresnel' ? lens.zMm - lensFocalMm(lens) : 0
  })
  return (
    <p className="parts-note">
      {inFocus === 0
        ? 'The face lies in the focus: the beam is a picture of the array.'
        : `The face lies ${valueText(Math.abs(inFocus), 'mm', system, 1)} ${inFocus < 0 ? 'inside' : 'outside'} the focus.`}
    </p>
  )
}

function Fresnel() {
  const host = usePiece()
  return (
    <>
      {FRESNEL.slice(0, 2).map((f) => (
        <LampNumber {...f} key={f.key} of={fresnel.shape[f.key]} {...bindNumber(host, f.key)} />
      ))}
      <PieceSize />
      {host.id === 'lens' && <InFocus />}
      <LampChoice
        label="Grooves face the"
        segments
        description="Towards the target is usual for a collimating lens; towards the source loses more at its risers"
        options={WAYS}
        read={(lamp) => {
          const lens = host.read(lamp)
          return lens?.kind === 'fresnel' ? lens.grooves : 'target'
        }}
        write={(lamp, grooves) => host.write(lamp, { grooves })}
      />
      <LensMaterial />
      {FRESNEL.slice(2).map((f) => (
        <LampNumber {...f} key={f.key} of={fresnel.shape[f.key]} {...bindNumber(host, f.key)} />
      ))}
      <CutForMaterial />
    </>
  )
}

function Solid() {
  const host = usePiece()
  return (
    <>
      <LampNumber {...SOLID[0]!} of={solid.shape.zMm} {...bindNumber(host, 'zMm')} />
      <PieceSize />
      {SOLID.slice(1).map((f) => (
        <LampNumber {...f} key={f.key} of={solid.shape[f.key]} {...bindNumber(host, f.key)} />
      ))}
      <LampChoice
        label="Curved side to the"
        segments
        description="Towards the target bends the light in two gentle steps: less blur"
        options={WAYS}
        read={(lamp) => {
          const lens = host.read(lamp)
          return lens?.kind === 'solid' ? lens.curved : 'target'
        }}
        write={(lamp, curved) => host.write(lamp, { curved })}
      />
      <LensMaterial />
      <SolidNote />
    </>
  )
}

function SolidNote() {
  const system = useUnitSystem()
  const host = usePiece()
  const note = useDesign((s) => {
    const lens = host.read(s.lamp)
    return lens?.kind === 'solid' ? solidNote(lens, system) : ''
  })
  return <p className="parts-note">{note}</p>
}

/** Paraxial focal length of a plano-convex lens, R / (n − 1), at 587.6 nm; thickness where it is thinnest. */
function solidNote(l: Extract<Lens, { kind: 'solid' }>, system: UnitSystem): string {
  const focalMm = lensFocalMm(l)
  const leastMm = l.thicknessMm - conicSag(pieceReachMm(l), l.radiusMm, l.conic)
  return `Focal length near the axis ${valueText(focalMm, 'mm', system, 0)}; thinnest with ${valueText(leastMm, 'mm', system, 1)} at ${farthestWords(l)}.`
}

function Ideal() {
  const host = usePiece()
  return (
    <>
      {IDEAL.map((f) => (
        <LampNumber {...f} key={f.key} of={ideal.shape[f.key]} {...bindNumber(host, f.key)} />
      ))}
      <PieceSize />
      <p className="parts-note">For checks by hand only: no lens without loss or blur can be bought.</p>
    </>
  )
}

const NEAR = { ...Z, description: 'Its side towards the face' }

function Cover() {
  const host = usePiece()
  return (
    <>
      <LampNumber {...NEAR} of={cover.shape.zMm} {...bindNumber(host, 'zMm')} />
      <PieceSize />
      <LampNumber
        label="Thickness"
        unit="mm"
        step={0.5}
        description="Thicker takes in more light"
        of={cover.shape.thicknessMm}
        {...bindNumber(host, 'thicknessMm')}
      />
      <LensMaterial />
      <LampNumber
        label="Reflectance a side"
        unit="share"
        step={0.005}
        description="Of a coated pane, from its data sheet; empty: plain surfaces, about 0.04 each"
        whenEmpty="plain"
        of={cover.shape.surfaceReflectance.unwrap()}
        {...bindNumber(host, 'surfaceReflectance')}
        clear={(lamp) => host.write(lamp, { surfaceReflectance: undefined })}
      />
    </>
  )
}

function Film() {
  const host = usePiece()
  const absorbed = useDesign((s) => {
    const film = host.read(s.lamp)
    return film?.kind === 'diffuser' ? 1 - film.transmittance - film.reflectance : 0
  })
  return (
    <>
      <LampNumber
        {...Z}
        description="A thin film: it has no thickness here"
        of={diffuser.shape.zMm}
        {...bindNumber(host, 'zMm')}
      />
      <PieceSize />
      <LampNumber
        label="Spread"
        unit="deg"
        step={0.5}
        description="Standard deviation of the blur along each of two directions; a full width at half the peak is 2.35 times this"
        of={diffuser.shape.spreadDeg}
        {...bindNumber(host, 'spreadDeg')}
      />
      <LampNumber
        label="Transmittance"
        unit="share"
        step={0.01}
        description="Share of the light that passes, all directions together"
        of={diffuser.shape.transmittance}
        {...bindNumber(host, 'transmittance')}
      />
      <LampNumber
        label="Reflectance"
        unit="share"
        step={0.01}
        description="Share that goes back into the lamp"
        of={diffuser.shape.reflectance}
        {...bindNumber(host, 'reflectance')}
      />
      <p className="parts-note">It takes in the rest, {formatNumber(100 * absorbed, 1)} % of the light, as heat.</p>
    </>
  )
}
