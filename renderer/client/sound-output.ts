/** The one loudspeaker of this window: a second sound ends the first. */
const audio = new Audio()

/** @returns whether it began; false where it was stopped meanwhile. @throws where it cannot be played. */
export async function playSound(address: string, volume: number): Promise<boolean> {
  audio.volume = volume
  audio.src = address
  try {
    await audio.play()
    return true
  } catch (fault) {
    if (fault instanceof DOMException && fault.name === 'AbortError') return false
    throw fault
  }
}

export function stopSound(): void {
  audio.pause()
}

export function setSoundVolume(volume: number): void {
  audio.volume = volume
}

export function onSoundEnded(listener: () => void): () => void {
  audio.addEventListener('ended', listener)
  return () => audio.removeEventListener('ended', listener)
}
