import { NumberInput, TextInput } from '@mantine/core'
import { useState } from 'react'
import type { ResponseOf } from '../../../app/contract/calls.ts'
import { SPEAKER_LOW_LIMIT_HZ } from '../../../app/model/speaker-low-limit.ts'
import { PageHead } from '../../elements/page-head.tsx'
import { WhenLoaded } from '../../elements/when-loaded.tsx'
import { useAsk } from '../../hooks/use-ask.ts'
import { useChange } from '../../hooks/use-change.ts'
import { RecordForm } from '../builds/record-form.tsx'

/** What the workshop keeps of itself: who works in it, and through which speaker loops are heard. */
export function WorkshopPage() {
  const status = useAsk('workshop:status', {})
  return (
    <div className="page-stack">
      <PageHead title="Workshop" />
      <WhenLoaded loaded={status} what="the workshop">
        {(known) => (
          <>
            <p className="quiet break">
              It lies in {known.path} and holds {known.fontCount} fonts with {known.soundCount} sounds. This
              is Cardwright {known.version}.
            </p>
            <WorkshopForm status={known} />
          </>
        )}
      </WhenLoaded>
    </div>
  )
}

function WorkshopForm({ status }: { readonly status: ResponseOf<'workshop:status'> }) {
  const [who, setWho] = useState(status.who)
  const [limitHz, setLimitHz] = useState(status.speakerLowLimitHz)
  const [isSaved, setIsSaved] = useState(false)
  const change = useChange('workshop:change')
  const submit = () => {
    setIsSaved(false)
    // A name that was not touched stays the account's.
    const request = { speakerLowLimitHz: limitHz, ...(who === status.who ? {} : { who }) }
    void change.run(request).then((changed) => setIsSaved(changed !== undefined))
  }
  return (
    <RecordForm
      form={{ isNew: false, isSaved, isRunning: change.isRunning, error: change.error }}
      submit={submit}
    >
      <div className="form">
        <NumberInput
          label="Usual speaker's low limit"
          description="Lowest frequency it gives, in Hz; empty where unknown. Loops are judged as heard through it, unless a build has its own speaker."
          suffix=" Hz"
          min={SPEAKER_LOW_LIMIT_HZ.least}
          max={SPEAKER_LOW_LIMIT_HZ.most}
          value={limitHz ?? ''}
          onChange={(next) => {
            setIsSaved(false)
            setLimitHz(typeof next === 'number' ? next : null)
          }}
        />
        <TextInput
          label="Who works here"
          description="Stands in the journal beside every edit, from the next start on; empty for the account's name."
          value={who}
          onChange={(event) => {
            setIsSaved(false)
            setWho(event.currentTarget.value)
          }}
        />
      </div>
    </RecordForm>
  )
}
