import type { JSX } from 'preact';
import { useEffect } from 'preact/hooks';
import { Select } from '../controls/fields.tsx';
import { useKept } from '../use-kept.ts';
import type { OpenRunFile } from '../use-run-file.ts';

const ways = [
  { value: 'nothing', words: 'Nothing' },
  { value: 'sound', words: 'A sound' },
  { value: 'notice', words: 'A notice of the system' },
] as const;

/** What tells a person who went away that a search has ended: as they want it, and once. */
export function TellEnd({ run }: { run: OpenRunFile }): JSX.Element {
  const [way, setWay] = useKept('tell-end', 'nothing');
  useEffect(
    () =>
      run.onEvent((event) => {
        if (event.kind !== 'laid') return;
        if (way === 'sound') playEnd();
        if (way === 'notice') showEnd(run.name);
      }),
    [run.name, way],
  );
  const choose = (next: string): void => {
    setWay(next);
    // A browser asks, and plays, only where somebody has pressed something.
    if (next === 'notice' && 'Notification' in window) void Notification.requestPermission();
    if (next === 'sound') playEnd();
  };
  return (
    <div class="tell-end">
      <Select label="At the end of a search" value={way} choices={[...ways]} onChange={choose} />
    </div>
  );
}

/** Two short tones, the second one higher. */
function playEnd(): void {
  const audio = new AudioContext();
  for (const [i, pitch] of [523, 784].entries()) {
    const tone = audio.createOscillator();
    const loudness = audio.createGain();
    const from = audio.currentTime + 0.22 * i;
    tone.frequency.value = pitch;
    loudness.gain.setValueAtTime(0.15, from);
    loudness.gain.exponentialRampToValueAtTime(0.001, from + 0.2);
    tone.connect(loudness).connect(audio.destination);
    tone.start(from);
    tone.stop(from + 0.22);
  }
  setTimeout(() => void audio.close(), 1000);
}

function showEnd(run: string): void {
  if (!('Notification' in window) || Notification.permission !== 'granted') return;
  void new Notification('The search has ended', { body: run, tag: `pileway-${run}` });
}
