import { useState } from 'react'
import { tunnel } from '../../lamp/tunnel.ts'
import { WALL_FINISHES } from '../../library/wallFinishes.ts'
import { formatNumber, rangeFault, type Unit } from '../common/units.ts'
import { design, useDesign } from '../store/stores.ts'
import { tryEdit } from '../store/tryEdit.ts'
import { Choice } from '../ui/Choice.tsx'
import { NumberField } from '../ui/NumberField.tsx'
import { newTunnel } from './defaults.ts'
import { ErrorText } from './ErrorText.tsx'
import { withTunnel } from './edits.ts'
import { LampChoice, LampNumber } from './fields.tsx'
import { Part } from './Part.tsx'

const of = tunnel.shape
type Sized = 'inMm' | 'outMm' | 'zInMm' | 'zOutMm'
type Surface = 'reflectance' | 'specularShare' | 'scatterDeg'

const FIELDS: readonly { key: Sized; label: string; step: number; description: string }[] = [
  { key: 'inMm', label: 'Mouth at the face', step: 1, description: 'Smaller than the array and it cuts light off' },
  {
    key: 'outMm',
    label: 'Mouth at the lens',
    step: 1,
    description: 'A widening tunnel narrows the angles of the light it carries',
  },
  { key: 'zInMm', label: 'Begins at z', step: 1, description: 'The gap to the face leaks light sideways' },
  { key: 'zOutMm', label: 'Ends at z', step: 1, description: 'The gap to the lens leaks light sideways' },
]
const SURFACE: readonly { key: Surface; label: string; unit: Unit; step: number; description: string }[] = [
  {
    key: 'reflectance',
    label: 'Reflectance',
    unit: 'share',
    step: 0.01,
    description: 'Share of the light kept at each bounce; the rest heats the wall',
  },
  {
    key: 'specularShare',
    label: 'Specular share',
    unit: 'share',
    step: 0.01,
    description: 'Part of that goes on as from a mirror; the rest spreads everywhere',
  },
  {
    key: 'scatterDeg',
    label: 'Blur of the mirror',
    unit: 'deg',
    step: 0.1,
    description: 'Standard deviation about the mirror direction',
  },
]

const SHAPES = [
  { key: 'none', name: 'none' },
  { key: 'round', name: 'round' },
  { key: 'polygon', name: 'polygon' },
] as const

export function TunnelPart() {
  const summary = useDesign((s) =>
    s.lamp.tunnel ? `${formatNumber(s.lamp.tunnel.inMm)} → ${formatNumber(s.lamp.tunnel.outMm)} mm` : 'none',
  )
  return (
    <Part of="tunnel" title="Tunnel" summary={summary}>
      {ALL_FIELDS}
    </Part>
  )
}

function Fields() {
  const shape = useDesign((s) => (s.lamp.tunnel ? (s.lamp.tunnel.sides === 0 ? 'round' : 'polygon') : 'none'))
  const [why, setWhy] = useState<string | null>(null)
  return (
    <>
      <Choice
        label="Cross-section"
        segments
        description="A mirrored tube between face and lens; sizes of a polygon are across flats"
        value={shape}
        options={SHAPES}
        onChoose={(key) =>
          setWhy(
            tryEdit(design, `Tunnel: ${key}`, (lamp) => {
              if (key === 'none') return { ...lamp, tunnel: null }
              const sides = key === 'round' ? 0 : 6
              return { ...lamp, tunnel: lamp.tunnel ? { ...lamp.tunnel, sides } : newTunnel(lamp, sides) }
            }),
          )
        }
      />
      <ErrorText why={why} />
      {shape !== 'none' && (
        <>
          {shape === 'polygon' && <Sides />}
          {FIELDS.map(({ key, ...f }) => (
            <LampNumber
              key={key}
              {...f}
              unit="mm"
              of={of[key]}
              read={(lamp) => lamp.tunnel?.[key] ?? null}
              write={(lamp, v) => withTunnel(lamp, { [key]: v })}
            />
          ))}
          <FinishPick />
          {SURFACE.map(({ key, ...f }) => (
            <LampNumber
              key={key}
              {...f}
              of={of[key]}
              read={(lamp) => lamp.tunnel?.[key] ?? null}
              write={(lamp, v) => withTunnel(lamp, { [key]: v })}
            />
          ))}
        </>
      )}
    </>
  )
}
/** A constant element: while an edge of the tunnel is dragged, only its own fields render. */
const ALL_FIELDS = <Fields />

const SIDES = { min: 3, max: 24, integer: true }

function Sides() {
  const sides = useDesign((s) => s.lamp.tunnel?.sides ?? 6)
  return (
    <NumberField
      label="Sides"
      unit=""
      step={1}
      {...SIDES}
      value={sides}
      description="The first flat faces right (+x)"
      onSet={(v) =>
        rangeFault(v, SIDES, '') ?? tryEdit(design, 'Tunnel: sides', (lamp) => withTunnel(lamp, { sides: v }))
      }
    />
  )
}

function FinishPick() {
  const found = useDesign((s) => {
    const t = s.lamp.tunnel
    const same = WALL_FINISHES.find(
      (f) => f.reflectance === t?.reflectance && f.specularShare === t.specularShare && f.scatterDeg === t.scatterDeg,
    )
    return same?.id ?? 'own'
  })
  const note = WALL_FINISHES.find((f) => f.id === found)?.note
  return (
    <>
      <LampChoice
        label="Lining"
        description="Sets reflectance, specular share and blur to those of a known finish"
        options={[
          ...WALL_FINISHES.map((f) => ({ key: f.id, name: f.name })),
          ...(found === 'own' ? [{ key: 'own', name: 'own numbers' }] : []),
        ]}
        read={() => found}
        write={(lamp, id) => {
          const finish = WALL_FINISHES.find((f) => f.id === id)
          if (!finish) return lamp
          const { reflectance, specularShare, scatterDeg } = finish
          return withTunnel(lamp, { reflectance, specularShare, scatterDeg })
        }}
      />
      {note && <p className="parts-note">{note}</p>}
    </>
  )
}
