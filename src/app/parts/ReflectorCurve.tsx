// Fold: a reflector of a known curve in place of the tunnel. What comes out are ordinary stretches, to be edited on.

import { useState } from 'react'
import { stretchesOf } from '../../lamp/assembly.ts'
import { LIMITS } from '../../lamp/limits.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { concentratorTunnel, type MadeReflector, paraboloidTunnel } from '../../layout/reflectors.ts'
import type { UnitSystem } from '../common/unitSystem.ts'
import { formatNumber, rangeFault, type Unit, valueText } from '../common/units.ts'
import { design } from '../store/stores.ts'
import { tryEdit } from '../store/tryEdit.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { Button } from '../ui/Button.tsx'
import { Choice } from '../ui/Choice.tsx'
import { NumberField } from '../ui/NumberField.tsx'
import { ErrorText } from './ErrorText.tsx'
import { Part } from './Part.tsx'

const CURVES = [
  { key: 'paraboloid', name: 'paraboloid' },
  { key: 'concentrator', name: 'concentrator' },
] as const
type Curve = (typeof CURVES)[number]['key']

type Key = 'focalMm' | 'focusZMm' | 'inMm' | 'outMm' | 'acceptanceDeg' | 'zInMm' | 'keptShare'
export type Wishes = Record<Key, number>

interface Field {
  key: Key
  label: string
  unit: Unit
  step: number
  min: number
  max: number
  description: string
}
const NECK = { key: 'inMm', unit: 'mm', step: 1, min: 1, max: LIMITS.lensMm } as const
const FIELDS: Record<Curve, readonly Field[]> = {
  paraboloid: [
    {
      ...{ key: 'focalMm', label: 'Focal length', unit: 'mm', step: 0.5, min: 0.1, max: LIMITS.lensMm },
      description: 'A quarter of the neck: the neck lies in the plane of the focus',
    },
    {
      ...{ key: 'focusZMm', label: 'Focus at z', unit: 'mm', step: 0.5, min: 0, max: LIMITS.lengthMm },
      description: 'Where the light starts: a source there leaves parallel',
    },
    { ...NECK, label: 'Neck', description: 'Diameter at the face' },
    { ...NECK, key: 'outMm', label: 'Rim', description: 'Diameter at the mouth; its place follows from the curve' },
  ],
  concentrator: [
    {
      ...{ key: 'acceptanceDeg', label: 'Half-angle', unit: 'deg', step: 0.5, min: 1, max: 89 },
      description: 'Of the cone that it puts the light into',
    },
    { ...NECK, label: 'Small end', description: 'At the face: diameter, or across flats' },
    {
      ...{ key: 'zInMm', label: 'Begins at z', unit: 'mm', step: 1, min: 0, max: LIMITS.lengthMm },
      description: 'The gap to the face leaks light sideways',
    },
    {
      ...{ key: 'keptShare', label: 'Length kept', unit: 'share', step: 0.05, min: 0.05, max: 1 },
      description: 'The last part of the full length is nearly a cylinder and can be left out',
    },
  ],
}

/** Numbers to begin with: the tunnel's own ends. */
export function firstWishes(lamp: Lamp): Wishes {
  const { inMm = lamp.face.sizeMm, outMm = 2 * lamp.face.sizeMm, zInMm = 14 } = lamp.tunnel ?? {}
  const focusZMm = Math.max(0, ...lamp.emitterTypes.map((e) => e.heightMm))
  return { focalMm: inMm / 4, focusZMm, inMm, outMm, acceptanceDeg: 30, zInMm, keptShare: 1 }
}

/** The reflector, lined as the tunnel's first stretch; of a rectangle's four sides a square one. */
export function reflectorOf(lamp: Lamp, curve: Curve, wishes: Wishes): MadeReflector {
  const { tunnel } = lamp
  if (!tunnel) return { ok: false, why: 'The lamp has no tunnel.' }
  const { reflectance, specularShare, scatterDeg, reflectanceByNm, finish: name } = stretchesOf(tunnel)[0]!
  const finish = {
    ...{ reflectance, specularShare, scatterDeg },
    ...(reflectanceByNm ? { reflectanceByNm } : {}),
    ...(name === undefined ? {} : { finish: name }),
  }
  if (curve === 'paraboloid') return paraboloidTunnel({ ...wishes, finish })
  return concentratorTunnel({ ...wishes, sides: tunnel.sides, finish })
}

export function ReflectorCurve() {
  return (
    <Part of="reflector" title="Shape from a curve" level={3} edits="Tunnel">
      <Order />
    </Part>
  )
}

function Order() {
  const system = useUnitSystem()
  const [curve, setCurve] = useState<Curve>('paraboloid')
  const [wishes, setWishes] = useState(() => firstWishes(design.lamp()))
  const [why, setWhy] = useState<string | null>(null)
  const [made, setMade] = useState('')
  const make = () => {
    const got = reflectorOf(design.lamp(), curve, wishes)
    const fault = got.ok ? tryEdit(design, `Tunnel: ${curve}`, (lamp) => ({ ...lamp, tunnel: got.tunnel })) : got.why
    setWhy(fault)
    setMade(got.ok && fault === null ? madeWords(got, system) : '')
  }
  return (
    <>
      <p className="parts-note">
        Puts a reflector in the tunnel’s place, in stretches so short that the slope changes by less than 0.2° from one
        to the next. It keeps the lining of the first stretch.
      </p>
      <Choice label="Curve" segments value={curve} options={CURVES} onChoose={(key: Curve) => setCurve(key)} />
      {FIELDS[curve].map(({ key, ...f }) => (
        <NumberField
          key={key}
          {...f}
          value={wishes[key]}
          onSet={(v) => {
            const fault = rangeFault(v, f, f.unit, system)
            if (fault === null) setWishes((w) => ({ ...w, [key]: v }))
            return fault
          }}
        />
      ))}
      <div className="parts-buttons">
        <Button onPress={make}>Make the {curve}</Button>
      </div>
      <ErrorText why={why} />
      <p className="parts-note">{made}</p>
    </>
  )
}

const madeWords = ({ tunnel, worstStepDeg }: Extract<MadeReflector, { ok: true }>, system: UnitSystem): string =>
  `Made of ${(tunnel.joints?.length ?? 0) + 1} stretches, ${formatNumber(worstStepDeg, 2)}° from slope to slope at most; its mouth of ${valueText(tunnel.outMm, 'mm', system, 1)} stands at z ${valueText(tunnel.zOutMm, 'mm', system, 1)}.`
