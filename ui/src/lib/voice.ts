// The system's own voice, where it has one on this device. No voice that needs a network is ever used.

export interface Voice {
  /** True where a voice of this device is there. Some systems name their voices only after a while. */
  readonly ready: boolean;
  /** Says this, and no longer what was being said. */
  say(words: string): void;
}

/** What is used of the browser's speech; a test brings its own. */
export interface Speech {
  voices(): readonly { localService: boolean; lang: string }[];
  cancel(): void;
  speak(words: string, voice: number): void;
}

export class LocalVoice implements Voice {
  #speech: Speech | null;

  constructor(speech: Speech | null) {
    this.#speech = speech;
  }

  get ready(): boolean {
    return this.#chosen >= 0;
  }

  say(words: string): void {
    const voice = this.#chosen;
    if (this.#speech === null || voice < 0) return;
    this.#speech.cancel();
    this.#speech.speak(words, voice);
  }

  /** The first voice of this device that speaks the language of the words. */
  get #chosen(): number {
    const voices = this.#speech?.voices() ?? [];
    return voices.findIndex((voice) => voice.localService && /^en\b/i.test(voice.lang));
  }
}

/** The speech of this window; null where it has none. */
export function windowSpeech(): Speech | null {
  if (typeof speechSynthesis === "undefined" || typeof SpeechSynthesisUtterance === "undefined") return null;
  return {
    voices: () => speechSynthesis.getVoices(),
    cancel: () => speechSynthesis.cancel(),
    speak: (words, at) => {
      const said = new SpeechSynthesisUtterance(words);
      const voice = speechSynthesis.getVoices()[at];
      if (voice) {
        said.voice = voice;
        said.lang = voice.lang;
        speechSynthesis.speak(said);
      }
    },
  };
}
