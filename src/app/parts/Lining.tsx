// What a stretch of the tunnel is lined with: a known finish, its three numbers, or a table over the wavelength.
import { useContext, useState } from 'react'
import { stretchesOf } from '../../lamp/assembly.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { tunnel } from '../../lamp/tunnel.ts'
import { finishFields, meanReflectance, WALL_FINISHES } from '../../library/wallFinishes.ts'
import { lineStretch } from '../common/stretchEdits.ts'
import { formatNumber, type Unit } from '../common/units.ts'
import { design, useDesign } from '../store/stores.ts'
import { tryEdit } from '../store/tryEdit.ts'
import { Button } from '../ui/Button.tsx'
import { ErrorText } from './ErrorText.tsx'
import { LampChoice, LampNumber, LampText, PartName } from './fields.tsx'
import { PairTable } from './PairTable.tsx'
import { Part } from './Part.tsx'

const of = tunnel.shape
const row = of.reflectanceByNm.unwrap().element.shape

type Surface = 'reflectance' | 'specularShare' | 'scatterDeg'
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

const liningOf = (lamp: Lamp, at: number) => (lamp.tunnel ? stretchesOf(lamp.tunnel)[at] : undefined)
const withLining = (lamp: Lamp, at: number, part: Parameters<typeof lineStretch>[2]): Lamp =>
  lamp.tunnel ? { ...lamp, tunnel: lineStretch(lamp.tunnel, at, part) } : lamp

/** `level`: of the heading of its fold, one below what it stands in. */
export function Lining({ at, level }: { at: number; level: 3 | 4 }) {
  const byTable = useDesign((s) => liningOf(s.lamp, at)?.reflectanceByNm !== undefined)
  return (
    <>
      <FinishPick at={at} />
      {byTable && <Mean at={at} />}
      {SURFACE.filter(({ key }) => !(byTable && key === 'reflectance')).map(({ key, ...f }) => (
        <LampNumber
          key={key}
          {...f}
          of={of[key]}
          read={(lamp) => liningOf(lamp, at)?.[key] ?? null}
          write={(lamp, v) => withLining(lamp, at, { [key]: v })}
        />
      ))}
      <ByWavelength at={at} level={level} />
    </>
  )
}

/** Id of the known finish that a stretch has, or 'own'. */
function finishAt(lamp: Lamp, at: number): string {
  const lining = liningOf(lamp, at)
  const same = WALL_FINISHES.find(
    (f) =>
      f.name === lining?.finish &&
      f.specularShare === lining.specularShare &&
      f.scatterDeg === lining.scatterDeg &&
      JSON.stringify(finishFields(f).reflectanceByNm) === JSON.stringify(lining.reflectanceByNm),
  )
  return same?.id ?? 'own'
}

function FinishPick({ at }: { at: number }) {
  const found = useDesign((s) => finishAt(s.lamp, at))
  const known = WALL_FINISHES.find((f) => f.id === found)
  return (
    <>
      <LampChoice
        label="Lining"
        description="Sets reflectance over the wavelength, specular share and blur to those of a known finish"
        options={[
          ...WALL_FINISHES.map((f) => ({ key: f.id, name: f.name })),
          ...(found === 'own' ? [{ key: 'own', name: 'own numbers' }] : []),
        ]}
        read={(lamp) => finishAt(lamp, at)}
        write={(lamp, id) => {
          const finish = WALL_FINISHES.find((f) => f.id === id)
          return finish ? withLining(lamp, at, finishFields(finish)) : lamp
        }}
      />
      {known && <p className="parts-note">{known.note}</p>}
    </>
  )
}

/** Fold: the lining's name and its reflectance over the wavelength. */
function ByWavelength({ at, level }: { at: number; level: 3 | 4 }) {
  const part = useContext(PartName)
  const [why, setWhy] = useState<string | null>(null)
  const rows = useDesign((s) => liningOf(s.lamp, at)?.reflectanceByNm?.length ?? 0)
  const name = useDesign((s) => liningOf(s.lamp, at)?.finish)
  return (
    <Part
      of={`lining${at}`}
      title="Name and colours"
      name={`Name and colours of stretch ${at + 1}`}
      summary={name ?? (rows > 0 ? `${rows} wavelengths` : undefined)}
      level={level}
      edits={part}
    >
      <LampText
        label="Name"
        description="For the drawings; nothing is computed from it"
        read={(lamp) => liningOf(lamp, at)?.finish ?? ''}
        write={(lamp, text) => withLining(lamp, at, { finish: text === '' ? undefined : text })}
      />
      <PairTable
        title="Reflectance over wavelength"
        first={{ key: 'nm', name: 'nm', unit: 'nm', of: row.nm, step: 5 }}
        second={{ key: 'reflectance', name: 'Reflects', unit: 'share', of: row.reflectance, step: 0.01 }}
        least={0}
        empty="None: the same reflectance for all colours."
        add={nextRows}
        read={(lamp) => liningOf(lamp, at)?.reflectanceByNm ?? []}
        write={(lamp, table) => withLining(lamp, at, withTable(table))}
      />
      {rows > 0 && (
        <div className="parts-buttons">
          <Button
            kind="quiet"
            hint="Its mean over white light stays, to be changed as one number"
            onPress={() =>
              setWhy(tryEdit(design, `${part}: one reflectance`, (lamp) => withLining(lamp, at, withTable([]))))
            }
          >
            One for all colours
          </Button>
        </div>
      )}
      <ErrorText why={why} />
    </Part>
  )
}

/** The mean over white light stands beside a table; without one it is the reflectance. */
export const withTable = (rows: readonly Row[]): Parameters<typeof lineStretch>[2] =>
  rows.length === 0
    ? { reflectanceByNm: undefined }
    : {
        reflectanceByNm: [...rows],
        reflectance: meanReflectance(rows.map((r) => [r.nm, r.reflectance])),
      }

/** In place of the one number. */
function Mean({ at }: { at: number }) {
  const words = useDesign((s) => {
    const lining = liningOf(s.lamp, at)
    return lining ? `Reflects ${formatNumber(lining.reflectance, 3)} of white light; by its colours below.` : ''
  })
  return <p className="parts-note">{words}</p>
}

type Row = { nm: number; reflectance: number }
const FIRST_NM = 400
const LAST_NM = 800

/** The first row stands at the blue end, each later one 50 nm on. */
export function nextRows(rows: readonly Row[]): Row[] {
  const last = rows.at(-1)
  if (!last) return [{ nm: FIRST_NM, reflectance: 0.87 }]
  const nm = last.nm < LAST_NM - 50 ? last.nm + 50 : (last.nm + 830) / 2
  return [...rows, { nm: Math.round(10 * nm) / 10, reflectance: last.reflectance }]
}
