// The most important cautions in one line, all of them one press away; and whether the lamp is being stored.
import { Button, Dialog, DialogTrigger, Heading, Popover } from 'react-aria-components'
import { firstCaution } from '../../checks/cautions.ts'
import { openHandbook } from '../store/handbook.ts'
import { useDesign } from '../store/stores.ts'
import { chooseUnitSystem, useUnitSystem } from '../store/unitSystem.ts'
import { CautionList } from '../ui/CautionList.tsx'
import { useOffline } from './offline.ts'
import { useStorage } from './page.ts'

/** For every lamp in this browser; files, drawings and the terminal stay metric. */
function UnitChoice() {
  const system = useUnitSystem()
  const isInch = system === 'inch'
  return (
    <Button
      className="shell-more shell-units"
      aria-label={isInch ? 'Units: in, ft, °F. Change to metric' : 'Units: mm, m, °C. Change to inches'}
      onPress={() => chooseUnitSystem(isInch ? 'metric' : 'inch')}
    >
      {isInch ? 'in · ft · °F' : 'mm · m · °C'}
    </Button>
  )
}

export function Footer() {
  const error = useStorage((s) => s.error)
  const ready = useStorage((s) => s.ready)
  const first = useDesign((s) => firstCaution(s.lamp))
  const isCached = useOffline((s) => s.isCached)
  return (
    <footer className="shell-foot">
      <p className="shell-caution">
        <strong>{first}</strong> <span>Figures are estimates for planning.</span>
      </p>
      <DialogTrigger>
        <Button className="shell-more">All cautions</Button>
        <Popover className="ui-popover shell-popover" placement="top start">
          <Dialog className="shell-popover-body">
            <Heading slot="title" className="shell-popover-title">
              Before you light it, and whenever you carry it
            </Heading>
            <CautionList className="shell-cautions" />
          </Dialog>
        </Popover>
      </DialogTrigger>
      <Button className="shell-more" onPress={() => openHandbook('01-first-lamp')}>
        Handbook
      </Button>
      <Newer />
      <UnitChoice />
      <p className="shell-storage-error" role="status">
        {error ?? (ready ? 'Saved automatically in this browser' : 'Looking for the lamps kept in this browser…')}
        {isCached && error === null && ' · opens without a network'}
      </p>
    </footer>
  )
}

/** What is on the page stays until its button is pressed; the lamp is stored before. */
function Newer() {
  const takeNewer = useOffline((s) => s.takeNewer)
  return (
    <p className="shell-newer" role="status">
      {takeNewer && (
        <>
          A newer version is ready. <Button onPress={takeNewer}>Reload</Button>
        </>
      )}
    </p>
  )
}
