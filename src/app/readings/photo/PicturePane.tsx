// A photograph of the wall becomes a set of readings: pictures, four marks, one reading of the meter.
import { useEffect, useMemo, useRef } from 'react'
import { joinShots, shadingOf, wallOf } from '../../../readings/photo/evaluate.ts'
import { pictureSet } from '../../../readings/photo/pictureSet.ts'
import { readings } from '../../store/readings.ts'
import { design, useDesign } from '../../store/stores.ts'
import { tryEdit } from '../../store/tryEdit.ts'
import { Button } from '../../ui/Button.tsx'
import { Choice } from '../../ui/Choice.tsx'
import { NumberField } from '../../ui/NumberField.tsx'
import { PictureStage } from './PictureStage.tsx'
import { useWallPicture, wallPicture } from './pictureStore.ts'
import { EvenField, Shots } from './Shots.tsx'
import { WallPreview } from './WallPreview.tsx'
import { curveWords } from './words.ts'
import './photo.css'

export function PicturePane() {
  const s = useWallPicture((state) => state)
  const meter = useDesign((d) => d.lamp.readings?.meter)
  const merging = useMemo(() => joinShots(s.shots), [s.shots])
  const shading = useMemo(() => shadingOf(s.shots, s.field, merging), [s.shots, s.field, merging])
  const { marks, meterAt, widthMm, heightMm, distanceM, readLx, cells, isDragging } = s
  const fresh = useMemo(
    () =>
      isDragging
        ? null
        : wallOf(merging, shading, { marks, meterAt, widthMm, heightMm, distanceM, readLx, cells }, meter),
    [merging, shading, marks, meterAt, widthMm, heightMm, distanceM, readLx, cells, isDragging, meter],
  )
  const section = useRef<HTMLElement>(null)
  useEffect(() => {
    section.current?.focus()
    // Back where it was opened.
    return () => document.querySelector<HTMLElement>('.photo-link button')?.focus()
  }, [])
  const faults = [
    ...s.why,
    ...(s.shots.length > 0 && !merging.ok ? [merging.why] : []),
    ...(merging.ok && !shading.ok ? [shading.why] : []),
    ...(fresh && !fresh.ok ? [fresh.why] : []),
  ]
  return (
    <section className="photo" aria-label="Picture of the wall" ref={section} tabIndex={-1}>
      <div className="readings-row photo-head">
        <Button kind="quiet" onPress={() => wallPicture.setState({ open: false })}>
          ← Back to the readings
        </Button>
        <span className="readings-quiet">Lux over the whole wall from a photograph and one reading of the meter.</span>
      </div>
      <div className="photo-steps photo-pictures">
        <Shots />
      </div>
      <PictureStage />
      <div className="photo-steps">
        {s.shots.length > 0 && (
          <>
            {merging.ok && <p className="readings-quiet">{curveWords(merging.merged)}</p>}
            <Wall />
            <Reading />
            <EvenField />
          </>
        )}
        <div role="alert">
          {faults.length > 0 && (
            <ul className="readings-why">
              {faults.map((why) => (
                <li key={why}>{why}</li>
              ))}
            </ul>
          )}
        </div>
      </div>
      {fresh?.ok && (
        <WallPreview map={fresh.map}>
          <Add of={fresh.map} />
        </WallPreview>
      )}
    </section>
  )
}

function Wall() {
  const { widthMm, heightMm, distanceM } = useWallPicture((s) => s)
  const side = (part: 'widthMm' | 'heightMm', label: string, value: number) => (
    <NumberField
      label={label}
      value={value}
      unit="mm"
      min={50}
      max={50_000}
      step={10}
      description="Between the marks, with a tape"
      onSet={(mm) => {
        wallPicture.setState({ [part]: mm })
        return null
      }}
    />
  )
  return (
    <>
      <h3>2 Four marks on the wall</h3>
      <p className="readings-quiet">
        Drag 1 to 4 onto the corners of a rectangle whose sides you know. Arrow keys move the mark in focus, with Shift
        further.
      </p>
      <div className="readings-row">
        {side('widthMm', 'Width', widthMm)}
        {side('heightMm', 'Height', heightMm)}
        <NumberField
          label="Wall at"
          value={distanceM}
          unit="m"
          min={0.05}
          max={10_000}
          step={0.1}
          description="From the lamp’s front to the wall"
          onSet={(m) => {
            wallPicture.setState({ distanceM: m })
            return null
          }}
        />
      </div>
    </>
  )
}

function Reading() {
  const { readLx, strayLx } = useWallPicture((s) => s)
  return (
    <>
      <h3>3 One reading of the meter</h3>
      <p className="readings-quiet">
        Meter flat on the wall. Drag L to where it was: an evenly lit place, not too dark.
      </p>
      <div className="readings-row">
        <NumberField
          label="It read"
          value={readLx}
          whenEmpty="not read yet"
          unit="lx"
          min={0.01}
          max={1e7}
          step={10}
          onSet={(lx) => {
            wallPicture.setState({ readLx: lx })
            return null
          }}
        />
        <NumberField
          label="Stray light"
          value={strayLx}
          unit="lx"
          min={0}
          max={1e6}
          step={0.1}
          description="Read with the lamp off or covered"
          onSet={(lx) => {
            wallPicture.setState({ strayLx: lx })
            return null
          }}
        />
      </div>
    </>
  )
}

const ZEROS = [
  { key: 'middle', name: 'Middle of the marks' },
  { key: 'brightest', name: 'Brightest place' },
] as const

function Add({ of: map }: { of: Parameters<typeof pictureSet>[0] }) {
  const { zero, distanceM, strayLx, shots } = useWallPicture((s) => s)
  const add = () => {
    const taken = new Set(design.lamp().readings?.sets.map((set) => set.id))
    let id = 'picture'
    for (let n = 2; taken.has(id); n++) id = `picture ${n}`
    const note = `From ${shots.length === 1 ? 'one photograph' : `${shots.length} exposures`}`
    const set = pictureSet(map, { id, distanceM, zero, strayLx, note })
    const fault = tryEdit(design, `Readings: ${id}`, (lamp) => ({
      ...lamp,
      readings: { ...lamp.readings, sets: [...(lamp.readings?.sets ?? []), set] },
    }))
    if (fault) return wallPicture.setState({ why: [fault] })
    wallPicture.setState({ open: false, why: [] })
    readings.setState({ announcement: `Added: ${id}.` })
  }
  return (
    <>
      <Choice
        label="Axis of the lamp at"
        segments
        value={zero}
        options={ZEROS}
        onChoose={(z) => wallPicture.setState({ zero: z })}
      />
      <Button kind="strong" onPress={add}>
        Add as readings
      </Button>
    </>
  )
}
