import { useState } from 'react'
import { conicSag } from '../../lamp/body.ts'
import { lens } from '../../lamp/lens.ts'
import type { Lens } from '../../lamp/schema.ts'
import { lensFocalMm } from '../../library/lensMaterial.ts'
import { formatNumber, type Unit } from '../common/units.ts'
import { design, useDesign } from '../store/stores.ts'
import { tryEdit } from '../store/tryEdit.ts'
import { Choice } from '../ui/Choice.tsx'
import { newLens } from './defaults.ts'
import { ErrorText } from './ErrorText.tsx'
import { withLens } from './edits.ts'
import { LampChoice, LampNumber } from './fields.tsx'
import { CutForMaterial, LensMaterial } from './LensMaterial.tsx'
import { Part } from './Part.tsx'

const [fresnel, solid, ideal] = lens.options

type FresnelKey = 'zMm' | 'focalMm' | 'diameterMm' | 'thicknessMm' | 'pitchMm' | 'draftDeg' | 'tipShare' | 'designNm'
type SolidKey = 'zMm' | 'diameterMm' | 'radiusMm' | 'conic' | 'thicknessMm'
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
    key: 'diameterMm',
    label: 'Size across',
    unit: 'mm',
    step: 1,
    description: 'Diameter, or side of a square; more area, more candela',
  },
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
  { key: 'diameterMm', label: 'Diameter', unit: 'mm', step: 1, description: 'More area, more candela' },
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
const IDEAL: readonly Field<'zMm' | 'focalMm' | 'diameterMm'>[] = [
  { ...Z, description: 'The plane of the lens' },
  FOCAL,
  { key: 'diameterMm', label: 'Diameter', unit: 'mm', step: 1, description: 'More area, more candela' },
]

const KINDS = [
  { key: 'none', name: 'none' },
  { key: 'fresnel', name: 'Fresnel' },
  { key: 'solid', name: 'solid' },
  { key: 'ideal', name: 'ideal' },
] as const
const WAYS = [
  { key: 'target', name: 'target' },
  { key: 'source', name: 'source' },
] as const

/** The value of a field, if the current kind of lens has it. */
const numberAt = (l: Lens | null, key: string): number | null => {
  const value = (l as Record<string, unknown> | null)?.[key]
  return typeof value === 'number' ? value : null
}

export function LensPart() {
  const summary = useDesign((s) =>
    s.lamp.lens ? `${formatNumber(s.lamp.lens.diameterMm)} mm at ${formatNumber(s.lamp.lens.zMm)}` : 'none',
  )
  return (
    <Part of="lens" title="Lens" summary={summary}>
      {FIELDS}
    </Part>
  )
}

function Fields() {
  const kind = useDesign((s) => s.lamp.lens?.kind ?? 'none')
  const [why, setWhy] = useState<string | null>(null)
  return (
    <>
      <Choice
        label="Kind"
        segments
        value={kind}
        options={KINDS}
        onChoose={(key) =>
          setWhy(
            tryEdit(design, `Lens: ${key}`, (lamp) => ({ ...lamp, lens: key === 'none' ? null : newLens(lamp, key) })),
          )
        }
      />
      <ErrorText why={why} />
      {kind === 'fresnel' && <Fresnel />}
      {kind === 'solid' && <Solid />}
      {kind === 'ideal' && <Ideal />}
    </>
  )
}
/** A constant element: while the lens is dragged, only the fields that change render. */
const FIELDS = <Fields />

const bind = (key: string) => ({
  read: (lamp: { lens: Lens | null }) => numberAt(lamp.lens, key),
  write: (lamp: Parameters<typeof withLens>[0], v: number) => withLens(lamp, { [key]: v }),
})

function InFocus() {
  const inFocus = useDesign((s) => (s.lamp.lens?.kind === 'fresnel' ? s.lamp.lens.zMm - lensFocalMm(s.lamp.lens) : 0))
  return (
    <p className="parts-note">
      {inFocus === 0
        ? 'The face lies in the focus: the beam is a picture of the array.'
        : `The face lies ${formatNumber(Math.abs(inFocus), 1)} mm ${inFocus < 0 ? 'inside' : 'outside'} the focus.`}
    </p>
  )
}

function Fresnel() {
  return (
    <>
      {FRESNEL.slice(0, 3).map((f) => (
        <LampNumber {...f} key={f.key} of={fresnel.shape[f.key]} {...bind(f.key)} />
      ))}
      <InFocus />
      <LampChoice
        label="Outline"
        segments
        options={[
          { key: 'round', name: 'round' },
          { key: 'square', name: 'square' },
        ]}
        read={(lamp) => (lamp.lens?.kind === 'fresnel' ? lamp.lens.aperture : 'round')}
        write={(lamp, aperture) => withLens(lamp, { aperture })}
      />
      <LampChoice
        label="Grooves face the"
        segments
        description="Towards the target is usual for a collimating lens; towards the source loses more at its risers"
        options={WAYS}
        read={(lamp) => (lamp.lens?.kind === 'fresnel' ? lamp.lens.grooves : 'target')}
        write={(lamp, grooves) => withLens(lamp, { grooves })}
      />
      <LensMaterial />
      {FRESNEL.slice(3).map((f) => (
        <LampNumber {...f} key={f.key} of={fresnel.shape[f.key]} {...bind(f.key)} />
      ))}
      <CutForMaterial />
    </>
  )
}

function Solid() {
  return (
    <>
      {SOLID.map((f) => (
        <LampNumber {...f} key={f.key} of={solid.shape[f.key]} {...bind(f.key)} />
      ))}
      <LampChoice
        label="Curved side to the"
        segments
        description="Towards the target bends the light in two gentle steps: less blur"
        options={WAYS}
        read={(lamp) => (lamp.lens?.kind === 'solid' ? lamp.lens.curved : 'target')}
        write={(lamp, curved) => withLens(lamp, { curved })}
      />
      <LensMaterial />
      <SolidNote />
    </>
  )
}

function SolidNote() {
  const note = useDesign((s) => (s.lamp.lens?.kind === 'solid' ? solidNote(s.lamp.lens) : ''))
  return <p className="parts-note">{note}</p>
}

/** Paraxial focal length of a plano-convex lens, R / (n − 1), at 587.6 nm; thickness at its rim. */
function solidNote(l: Extract<Lens, { kind: 'solid' }>): string {
  const focalMm = lensFocalMm(l)
  const rimMm = l.thicknessMm - conicSag(l.diameterMm / 2, l.radiusMm, l.conic)
  return `Focal length near the axis ${formatNumber(focalMm, 0)} mm; ${formatNumber(rimMm, 1)} mm thick at its rim.`
}

function Ideal() {
  return (
    <>
      {IDEAL.map((f) => (
        <LampNumber {...f} key={f.key} of={ideal.shape[f.key]} {...bind(f.key)} />
      ))}
      <p className="parts-note">For checks by hand only: no lens without loss or blur can be bought.</p>
    </>
  )
}
