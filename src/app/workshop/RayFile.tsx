// A ray file from a fresh trace: how many rays, how far it is, and a button that stops it.

import { useEffect, useRef, useState } from 'react'
import { version } from '../../../package.json'
import { lightTraced } from '../../job/power/light.ts'
import { rayFileInWorker } from '../../job/rays/client.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { inThousands } from '../../num/thousands.ts'
import { lightWords } from '../../report/light.ts'
import { rayFileTexts } from '../../report/photometry.ts'
import { fileStem, saveFile } from '../common/saveFile.ts'
import { useDesign } from '../store/stores.ts'
import { Button } from '../ui/Button.tsx'
import { NumberField } from '../ui/NumberField.tsx'
import { SavedWords } from './SavedWords.tsx'
import { saving } from './saving.ts'

const MOST_RAYS = 20_000_000
const RAY_BYTES = 36

export function RayFile() {
  const lamp = useDesign((s) => s.lamp)
  const [rays, setRays] = useState(1_000_000)
  const [share, setShare] = useState<number | null>(null)
  const running = useRef<AbortController | null>(null)
  useEffect(() => () => running.current?.abort(), [])
  const save = async () => {
    const abort = new AbortController()
    running.current = abort
    setShare(0)
    await saving(`${fileStem(lamp.name)}.tm25ray`, (name) => traced(lamp, rays, name, abort.signal, setShare))
    setShare(null)
  }
  return (
    <>
      <h3>Rays, IES TM-25</h3>
      <p>
        Single rays with place, direction and flux, for ray tracers. They are traced anew, in a worker; an edit
        meanwhile doesn’t get into the file.
      </p>
      <div className="workshop-row">
        <NumberField
          label="Rays to start"
          unit=""
          step={100_000}
          digits={0}
          min={1000}
          max={MOST_RAYS}
          value={rays}
          isDisabled={share !== null}
          onSet={(value) => {
            setRays(Math.round(value))
            return null
          }}
        />
        {share === null ? (
          <Button kind="strong" onPress={() => void save()}>
            Trace and save TM-25
          </Button>
        ) : (
          <Button onPress={() => running.current?.abort()}>Stop</Button>
        )}
        <p>
          {share === null
            ? `Up to ${Math.max(1, Math.round((rays * RAY_BYTES) / 1e6))} MB.`
            : `${Math.floor(100 * share)} % traced.`}
        </p>
      </div>
      <SavedWords ending=".tm25ray" />
    </>
  )
}

async function traced(
  lamp: Lamp,
  rays: number,
  name: string,
  signal: AbortSignal,
  onShare: (share: number) => void,
): Promise<string> {
  const texts = rayFileTexts(lamp.name, lightWords(lightTraced(lamp)), version)
  const date = `${new Date().toISOString().slice(0, 19)}Z`
  const { file, sums, started } = await rayFileInWorker(
    { lamp, seed: 1, rays, words: { texts, date } },
    signal,
    onShare,
  )
  saveFile(name, file, 'application/octet-stream')
  return `${inThousands(sums.rays)} rays of ${inThousands(started)} that were started, ${sums.luminousLm.toPrecision(4)} lm. It is a computed prediction: nothing was measured.`
}
