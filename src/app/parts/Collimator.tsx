// A collimator by data sheet: its exit, its efficiency, and its beam as a formula, a table or a photometric file.
import { opticType } from '../../lamp/parts.ts'
import type { Lamp, OpticType } from '../../lamp/schema.ts'
import type { Unit } from '../common/units.ts'
import { useDesign } from '../store/stores.ts'
import { withOptic } from './edits.ts'
import { LampChoice, LampNumber } from './fields.tsx'
import { asTable, fullWidthDeg } from './model/emitterCurve.ts'
import { ProfileFile } from './ProfileFile.tsx'
import { ProfilePicture } from './ProfilePicture.tsx'
import { ProfileRows } from './ProfileRows.tsx'

type CollimatorType = Extract<OpticType, { kind: 'collimator' }>

const [, collimator] = opticType.options
const of = collimator.shape

const at = (lamp: Lamp, id: string): CollimatorType | null => {
  const optic = lamp.opticTypes.find((o) => o.id === id)
  return optic?.kind === 'collimator' ? optic : null
}

interface Field {
  key: 'efficiency' | 'exitDiameterMm' | 'heightMm'
  label: string
  unit: Unit
  step: number
  description: string
}

const FIELDS: readonly Field[] = [
  {
    key: 'efficiency',
    label: 'Efficiency',
    unit: 'share',
    step: 0.01,
    description: 'Share of the emitter’s light that it passes',
  },
  {
    key: 'exitDiameterMm',
    label: 'Exit diameter',
    unit: 'mm',
    step: 0.5,
    description: 'The disc its light leaves from; a small disc cannot make a narrow beam',
  },
  { key: 'heightMm', label: 'Exit height', unit: 'mm', step: 0.5, description: 'Exit disc above its board' },
]

export function Collimator({ id }: { id: string }) {
  const shape = useDesign((s) => at(s.lamp, id)?.shape)
  return (
    <>
      <LampChoice
        label="Beam"
        segments
        description="How its own beam falls off: Gaussian has short tails, cosine power long ones; or a table of its maker"
        options={[
          { key: 'gaussian', name: 'Gaussian' },
          { key: 'cosine', name: 'cosine power' },
          { key: 'table', name: 'table' },
        ]}
        read={(lamp) => at(lamp, id)?.shape ?? 'gaussian'}
        write={(lamp, key) => withShape(lamp, id, key)}
      />
      {shape === 'table' ? <Table id={id} /> : <Widths id={id} isGaussian={shape === 'gaussian'} />}
      {FIELDS.map(({ key, ...f }) => (
        <LampNumber
          key={key}
          {...f}
          of={of[key]}
          read={(lamp) => at(lamp, id)?.[key] ?? null}
          write={(lamp, v) => withOptic(lamp, id, { [key]: v })}
        />
      ))}
    </>
  )
}

function Widths({ id, isGaussian }: { id: string; isGaussian: boolean }) {
  const isElliptical = useDesign((s) => at(s.lamp, id)?.fwhmYDeg !== undefined)
  return (
    <>
      <LampNumber
        label={isElliptical ? 'Full width at half, x' : 'Full width at half'}
        unit="deg"
        step={0.5}
        of={of.fwhmDeg}
        description="Angle of its own beam, from its data sheet, for the emitter it sits on"
        read={(lamp) => at(lamp, id)?.fwhmDeg ?? null}
        write={(lamp, fwhmDeg) => withOptic(lamp, id, { fwhmDeg })}
      />
      {isGaussian && (
        <LampNumber
          label="Full width at half, y"
          unit="deg"
          step={0.5}
          of={of.fwhmYDeg.unwrap()}
          description="Of an elliptical beam; leave it empty for a round one"
          whenEmpty="round"
          read={(lamp) => at(lamp, id)?.fwhmYDeg ?? null}
          write={(lamp, fwhmYDeg) => withOptic(lamp, id, { fwhmYDeg })}
          clear={(lamp) => changed(lamp, id, ({ fwhmYDeg: _y, ...rest }) => rest)}
        />
      )}
      {isElliptical && <Turn id={id} />}
    </>
  )
}

function Turn({ id }: { id: string }) {
  return (
    <LampNumber
      label="Turn of the optic"
      unit="deg"
      step={5}
      of={of.turnDeg.unwrap()}
      description="About its own axis; its x is the emitter’s when it isn’t turned"
      read={(lamp) => at(lamp, id)?.turnDeg ?? 0}
      write={(lamp, turnDeg) => changed(lamp, id, ({ turnDeg: _old, ...o }) => (turnDeg === 0 ? o : { ...o, turnDeg }))}
    />
  )
}

function Table({ id }: { id: string }) {
  const profile = useDesign((s) => at(s.lamp, id)?.profile)
  if (!profile) return null
  return (
    <>
      <ProfilePicture profile={profile} />
      <ProfileFile
        axisOf="optic"
        hasFlux={false}
        take={(lamp, part) => withOptic(lamp, id, { profile: part.profile, fwhmDeg: fullWidthDeg(part.profile) })}
      />
      {profile.kind === 'map' ? (
        <Turn id={id} />
      ) : (
        <ProfileRows
          of="opticProfile"
          edits="Optic"
          title="Beam over angle"
          count={profile.thetaDeg.length}
          read={(lamp) => at(lamp, id)?.profile}
          write={(lamp, profile) => withOptic(lamp, id, { profile })}
        />
      )}
    </>
  )
}

const changed = (lamp: Lamp, id: string, change: (optic: CollimatorType) => CollimatorType): Lamp => ({
  ...lamp,
  opticTypes: lamp.opticTypes.map((o) => (o.id === id && o.kind === 'collimator' ? change(o) : o)),
})

/** A table starts as the formula that it replaces, and a formula with the table's width. */
function withShape(lamp: Lamp, id: string, shape: CollimatorType['shape']): Lamp {
  return changed(lamp, id, ({ profile, fwhmYDeg, ...o }) => {
    if (shape === o.shape)
      return { ...o, ...(profile ? { profile } : {}), ...(fwhmYDeg === undefined ? {} : { fwhmYDeg }) }
    if (shape === 'table' && o.shape !== 'table')
      return { ...o, shape, profile: asTable({ kind: o.shape, fwhmDeg: Math.max(1, o.fwhmDeg) }) }
    return { ...o, shape, fwhmDeg: profile ? fullWidthDeg(profile) : o.fwhmDeg }
  })
}
