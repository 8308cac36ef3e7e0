/**
 * Real sounds that nobody here made: prompts of Debian's `asterisk-core-sounds-en-wav` (8 kHz) and test
 * sounds of `alsa-utils` (48 kHz), each with a name that gives it a role.
 */
export const PROMPTS = '/usr/share/asterisk/sounds/en_US_f_Allison'
export const ALSA = '/usr/share/sounds/alsa'

export const REAL_SOUNDS: Readonly<Record<string, string>> = {
  'hum.wav': `${ALSA}/Noise.wav`,
  'ignite-01.wav': `${ALSA}/Front_Center.wav`,
  'ignite-02.wav': `${PROMPTS}/ascending-2tone.wav`,
  'retract-01.wav': `${ALSA}/Rear_Center.wav`,
  'retract-02.wav': `${PROMPTS}/cancelled.wav`,
  'swing-01.wav': `${ALSA}/Side_Left.wav`,
  'swing-02.wav': `${ALSA}/Side_Right.wav`,
  'swing-03.wav': `${PROMPTS}/added.wav`,
  'swing-04.wav': `${PROMPTS}/calling.wav`,
  'clash-01.wav': `${PROMPTS}/beep.wav`,
  'clash-02.wav': `${PROMPTS}/beeperr.wav`,
  'clash-03.wav': `${ALSA}/Front_Left.wav`,
  'deflect-01.wav': `${ALSA}/Front_Right.wav`,
  'deflect-02.wav': `${PROMPTS}/conf-muted.wav`,
  'lockup.wav': `${ALSA}/Rear_Left.wav`,
  'drag.wav': `${ALSA}/Rear_Right.wav`,
  'boot.wav': `${PROMPTS}/activated.wav`,
  'announce.wav': `${PROMPTS}/agent-loginok.wav`,
  'music.wav': `${PROMPTS}/basic-pbx-ivr-main.wav`,
  'low-cell.wav': `${PROMPTS}/conf-locked.wav`,
}
