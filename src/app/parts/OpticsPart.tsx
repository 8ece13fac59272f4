// Optics on the emitters, and the lamp's default optic, which boards can override.

import { useState } from 'react'
import { opticType } from '../../lamp/parts.ts'
import type { Lamp, OpticType } from '../../lamp/schema.ts'
import type { Unit } from '../common/units.ts'
import { valueText } from '../common/units.ts'
import { design, useDesign } from '../store/stores.ts'
import { tryEdit } from '../store/tryEdit.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { Choice } from '../ui/Choice.tsx'
import { AimAt } from './AimAt.tsx'
import { Collimator } from './Collimator.tsx'
import { newOptic } from './defaults.ts'
import { ErrorText } from './ErrorText.tsx'
import { freeId, isUsed, withOptic } from './edits.ts'
import { LampChoice, LampNumber, LampText } from './fields.tsx'
import { Part } from './Part.tsx'
import { TypeRow, useRow } from './TypeRow.tsx'

const [, , reflector] = opticType.options

interface Field<K extends string> {
  key: K
  label: string
  unit: Unit
  step: number
  description: string
}

const REFLECTOR: readonly Field<'focalMm' | 'exitDiameterMm' | 'reflectance' | 'shiftXMm' | 'shiftYMm' | 'shiftZMm'>[] =
  [
    {
      key: 'focalMm',
      label: 'Focal length',
      unit: 'mm',
      step: 0.1,
      description: 'Of the paraboloid; its depth follows from it and the exit diameter',
    },
    {
      key: 'exitDiameterMm',
      label: 'Exit diameter',
      unit: 'mm',
      step: 0.5,
      description: 'Wider catches more of the light and narrows the beam',
    },
    {
      key: 'reflectance',
      label: 'Reflectance',
      unit: 'share',
      step: 0.01,
      description: 'Share of the light its mirror sends on',
    },
    { key: 'shiftXMm', label: 'Emitter off focus, x', unit: 'mm', step: 0.1, description: 'Leans the beam sideways' },
    { key: 'shiftYMm', label: 'Emitter off focus, y', unit: 'mm', step: 0.1, description: 'Leans the beam up or down' },
    {
      key: 'shiftZMm',
      label: 'Emitter off focus, z',
      unit: 'mm',
      step: 0.1,
      description: 'Along the axis: widens the beam',
    },
  ]

const KINDS = [
  { key: 'bare', name: 'bare' },
  { key: 'collimator', name: 'collimator' },
  { key: 'reflector', name: 'reflector' },
] as const

const at = (lamp: Lamp, id: string): OpticType => lamp.opticTypes.find((o) => o.id === id) ?? lamp.opticTypes[0]!

export function OpticsPart() {
  const rows = useDesign((s) => s.lamp.opticTypes)
  const usual = useDesign((s) => s.lamp.optic)
  const [id, choose] = useRow(rows)
  const [why, setWhy] = useState<string | null>(null)
  const row = rows.find((r) => r.id === id)!
  return (
    <Part
      of="optics"
      title="Optics"
      summary={<span translate="no">{rows.find((r) => r.id === usual)?.name}</span>}
      edits="Optic"
    >
      <LampChoice
        label="Usual optic"
        description="The optic of every emitter whose board names no other"
        options={rows.map((r) => ({ key: r.id, name: r.name }))}
        asTyped
        read={(lamp) => lamp.optic}
        write={(lamp, optic) => ({ ...lamp, optic })}
      />
      <AimAt />
      <TypeRow
        list="opticTypes"
        what="optic"
        id={id}
        choose={choose}
        copy={() => {
          const lamp = design.lamp()
          const next = { ...at(lamp, id), id: freeId(lamp.opticTypes, id) }
          return {
            lamp: { ...lamp, opticTypes: [...lamp.opticTypes, { ...next, name: `${next.name}, copy` }] },
            id: next.id,
          }
        }}
        canDelete={(lamp) => lamp.opticTypes.length > 1 && !isUsed(lamp, 'opticTypes', id)}
      />
      <Choice
        label="Kind"
        segments
        value={row.kind}
        options={KINDS}
        onChoose={(kind) =>
          setWhy(
            tryEdit(design, `Optic: ${kind}`, (lamp) => {
              const fresh = { ...newOptic(lamp, kind), id }
              return { ...lamp, opticTypes: lamp.opticTypes.map((o) => (o.id === id ? fresh : o)) }
            }),
          )
        }
      />
      <ErrorText why={why} />
      <LampText label="Name" read={(lamp) => at(lamp, id).name} write={(lamp, name) => withOptic(lamp, id, { name })} />
      {row.kind === 'collimator' && <Collimator id={id} />}
      {row.kind === 'reflector' && <Reflector id={id} focalMm={row.focalMm} exitMm={row.exitDiameterMm} />}
    </Part>
  )
}

function Reflector({ id, focalMm, exitMm }: { id: string; focalMm: number; exitMm: number }) {
  const system = useUnitSystem()
  return (
    <>
      {REFLECTOR.map(({ key, ...f }) => (
        <LampNumber
          key={key}
          {...f}
          of={reflector.shape[key]}
          read={(lamp) => {
            const o = at(lamp, id)
            return o.kind === 'reflector' ? o[key] : null
          }}
          write={(lamp, v) => withOptic(lamp, id, { [key]: v })}
        />
      ))}
      <p className="parts-note">
        {/* A paraboloid of focal length f is r² / 4f deep at radius r. */}
        From vertex to rim {valueText(exitMm ** 2 / (16 * focalMm), 'mm', system, 1)}.
      </p>
    </>
  )
}
