// Earlier states of the open lamp, stored across reloads. Going back to one is an edit of its own.
import { Button, Dialog, DialogTrigger, Heading, Popover } from 'react-aria-components'
import { withValues } from '../common/changeWords.ts'
import type { StoredState } from '../store/storedLamps.ts'
import { storage, useStorage } from './page.ts'
import { whenText } from './whenText.ts'

const NONE: readonly StoredState[] = []

export function StatesMenu() {
  const states = useStorage((s) => s.lamps.find((l) => l.id === s.openId)?.states ?? NONE)
  return (
    <DialogTrigger>
      <Button className="ui-button ui-button-quiet">Earlier ▾</Button>
      <Popover className="ui-popover shell-popover" placement="bottom start">
        <Dialog className="shell-popover-body">
          {({ close }) => (
            <>
              <Heading slot="title" className="shell-popover-title">
                Earlier states of this lamp
              </Heading>
              <ol className="shell-states">
                {states.map((state, i) => (
                  <li key={state.key}>
                    <Button
                      className="shell-lamp-name"
                      {...(i === 0 && { 'aria-current': 'true' as const })}
                      onPress={() => {
                        close()
                        if (i > 0) storage.goBack(state)
                      }}
                    >
                      <span>
                        {state.label === 'Open' ? 'As it was opened' : withValues(state.label, state.values ?? '')}
                      </span>
                      <small>{i === 0 ? 'as it is now' : whenText(state.at)}</small>
                    </Button>
                  </li>
                ))}
              </ol>
              <p className="shell-quiet">The last twenty are kept. Going back can be undone.</p>
            </>
          )}
        </Dialog>
      </Popover>
    </DialogTrigger>
  )
}
