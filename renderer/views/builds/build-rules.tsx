import { Button, NativeSelect, Select, TextInput } from '@mantine/core'
import { WEIGHTS, type RuleChange, type Weight } from '../../../app/model/finding.ts'
import { WhenLoaded } from '../../elements/when-loaded.tsx'
import { useAsk } from '../../hooks/use-ask.ts'

interface BuildRulesProps {
  readonly boardId: string
  readonly changes: readonly RuleChange[]
  readonly onChange: (changes: readonly RuleChange[]) => void
}

/** Rules that a build weighs otherwise than its board, each with the reason that its findings show. */
export function BuildRules({ boardId, changes, onChange }: BuildRulesProps) {
  const rules = useAsk('boards:rules', { boardId })
  const withChange = (changed: RuleChange) =>
    onChange(changes.map((each) => (each.rule === changed.rule ? changed : each)))

  return (
    <section className="sheet-stack" aria-labelledby="build-rules">
      <h2 id="build-rules">Rules weighed otherwise</h2>
      <p className="quiet">
        For this build alone. The reason is shown with what the rule finds, and kept with the cards that are
        made. Preparing mends all the same what it can.
      </p>
      {changes.map(({ rule, severity, reason }) => (
        <div className="row row-end" role="group" aria-label={`Rule ${rule}`} key={rule}>
          <NativeSelect
            label={rule}
            data={[...WEIGHTS]}
            value={severity}
            onChange={(event) => withChange({ rule, severity: event.currentTarget.value as Weight, reason })}
          />
          <TextInput
            label={`Reason for ${rule}`}
            required
            maxLength={500}
            value={reason}
            onChange={(event) => withChange({ rule, severity, reason: event.currentTarget.value })}
            flex="1 1 18rem"
          />
          <Button
            variant="default"
            aria-label={`Take back what was told of ${rule}`}
            onClick={() => onChange(changes.filter((each) => each.rule !== rule))}
          >
            Take back
          </Button>
        </div>
      ))}
      <WhenLoaded loaded={rules} what="the rules">
        {({ rules: known }) => (
          <Select
            label="Weigh another rule otherwise"
            placeholder="Type a part of its name"
            searchable
            nothingFoundMessage="No other rule of this name"
            data={known
              .filter(({ rule }) => changes.every((each) => each.rule !== rule))
              .map(({ rule, severity, because, change }) => ({
                value: rule,
                label: `${rule} · ${change?.severity ?? severity} · ${because}`,
              }))}
            value={null}
            onChange={(rule) =>
              rule !== null && onChange([...changes, { rule, severity: 'note', reason: '' }])
            }
            maw="46rem"
          />
        )}
      </WhenLoaded>
    </section>
  )
}
