// What may stand beside the open lamp: lamps stored in this browser, earlier states of the open one, a file.
import { Button as AriaButton, Header, Menu, MenuItem, MenuSection, MenuTrigger, Popover } from 'react-aria-components'
import { withValues } from '../common/changeWords.ts'
import { useStorage } from '../store/pageStorage.ts'
import { Button } from '../ui/Button.tsx'

export interface AddActions {
  addStored(key: string, from: string): void
  addFile(): void
}

export function AddLamp({ actions, isDisabled }: { actions: AddActions; isDisabled: boolean }) {
  const lamps = useStorage((s) => s.lamps)
  const openId = useStorage((s) => s.openId)
  const others = lamps.filter((l) => l.id !== openId && l.states.length > 0)
  const earlier = (lamps.find((l) => l.id === openId)?.states ?? []).slice(1)
  const choose = (key: string) => {
    const state = earlier.find((s) => s.key === key)
    actions.addStored(key, state ? `earlier: ${stateWords(state)}` : 'stored in this browser')
  }
  return (
    <div className="compare-add">
      <MenuTrigger>
        <AriaButton className="ui-button" isDisabled={isDisabled || others.length + earlier.length === 0}>
          Add a stored lamp ▾
        </AriaButton>
        <Popover className="ui-popover compare-menu" placement="bottom start">
          <Menu onAction={(key) => choose(String(key))} aria-label="Add a stored lamp">
            {earlier.length > 0 && (
              <MenuSection>
                <Header className="compare-menu-head">Earlier states of this lamp</Header>
                {earlier.map((s) => (
                  <MenuItem key={s.key} id={s.key} className="ui-option">
                    {stateWords(s)}
                  </MenuItem>
                ))}
              </MenuSection>
            )}
            {others.length > 0 && (
              <MenuSection>
                <Header className="compare-menu-head">Lamps in this browser</Header>
                {others.map((l) => (
                  <MenuItem key={l.id} id={l.states[0]?.key ?? ''} className="ui-option">
                    {l.name}
                  </MenuItem>
                ))}
              </MenuSection>
            )}
          </Menu>
        </Popover>
      </MenuTrigger>
      <Button isDisabled={isDisabled} onPress={actions.addFile}>
        From a file…
      </Button>
    </div>
  )
}

const stateWords = ({ label, values }: { label: string; values?: string }): string =>
  label === 'Open' ? 'As it was opened' : withValues(label, values ?? '')
