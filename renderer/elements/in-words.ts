import type { JobProgress } from '../../app/contract/door.ts'
import type { AudioFacts } from '../../app/model/audio-facts.ts'
import { inUnits } from '../../app/model/in-units.ts'
import type { SoundPlace } from '../../app/model/role.ts'

/** Made once: a format of its own for every number costs more than all else about a long list. */
const WHOLE = new Intl.NumberFormat('en')

/** `1 sound`, `12 sounds`. */
export function counted(count: number, noun: string): string {
  const ending = noun.endsWith('s') ? 'es' : 's'
  return `${WHOLE.format(count)} ${noun}${count === 1 ? '' : ending}`
}

/** `swing 2, high`, `lockup, begin`: a sound's place as people say it. */
export function placeInWords({ part, layer, number }: SoundPlace): string {
  const words = [part === 'body' ? '' : part, layer ?? '', number === null ? '' : String(number)]
  return words.filter((word) => word !== '').join(' ') || '–'
}

/** `hum`, `clash 3`, `swing, low 2`, `lockup, begin`: what a sound is for, its role and place in one. */
export function roleInWords(place: SoundPlace): string {
  const isPlain = place.part === 'body' && place.layer === null
  if (isPlain) return place.number === null ? place.role : `${place.role} ${place.number}`
  return `${place.role}, ${placeInWords(place)}`
}

/** `44.1 kHz · 16 bit · mono` */
export function formatInWords(facts: AudioFacts): string {
  const { sampleRateHz, validBits, bitDepth, channels, coding } = facts
  const bits = validBits ?? bitDepth
  return [
    sampleRateHz === null ? '' : `${Number((sampleRateHz / 1000).toFixed(3))} kHz`,
    bits === null ? '' : `${bits} bit`,
    channels === null ? '' : channelsInWords(channels),
    coding === 'pcm' ? '' : coding,
  ]
    .filter((word) => word !== '')
    .join(' · ')
}

function channelsInWords(channels: number): string {
  if (channels === 1) return 'mono'
  return channels === 2 ? 'stereo' : `${channels} channels`
}

/** `0.70 s`, `2 min 05 s`; a dash where nobody knows. */
export function lengthInWords(seconds: number | null): string {
  if (seconds === null) return '–'
  if (seconds < 60) return `${seconds.toFixed(seconds < 10 ? 2 : 1)} s`
  const whole = Math.round(seconds)
  return `${Math.floor(whole / 60)} min ${String(whole % 60).padStart(2, '0')} s`
}

/** A measured number with a true minus sign; a dash where there is none. */
export function measuredInWords(value: number | null, unit: string): string {
  return value === null ? '–' : `${value.toFixed(1).replace('-', '−')} ${unit}`
}

/** `120 of 408 files` */
export function amountInWords({ done, total, unit }: JobProgress): string {
  const write = (count: number) => (unit === 'bytes' ? inUnits(count) : count.toLocaleString('en'))
  const amount = total === null ? write(done) : `${write(done)} of ${write(total)}`
  return unit === 'bytes' ? amount : `${amount} ${unit}`
}

/** `14 s left`, `3 min left`; empty while nobody knows. */
export function timeLeftInWords(seconds: number | null): string {
  if (seconds === null) return ''
  return seconds < 60 ? `${seconds} s left` : `${Math.ceil(seconds / 60)} min left`
}

/** The day and minute of an ISO time, in this computer's zone. */
export function momentInWords(iso: string): string {
  const moment = new Date(iso)
  if (Number.isNaN(moment.getTime())) return iso
  return moment.toLocaleString('sv', { dateStyle: 'short', timeStyle: 'short' })
}

/** `Harbour Bell 1.2` */
export function fontInWords(name: string, version: string): string {
  return version === '' ? name : `${name} ${version}`
}
