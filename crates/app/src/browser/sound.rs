//! Tones, one after the other.

use wasm_bindgen::JsCast;
use wasm_bindgen::closure::Closure;
use web_sys::AudioContext;
use whorl_charts::melody::Tone;

/// Soft: the device's own volume makes it louder.
const LOUDNESS: f32 = 0.12;

/// A melody being played.
pub(crate) struct Playing(AudioContext);

impl Playing {
    /// Ends it.
    pub(crate) fn stop(self) {
        let _ = self.0.close();
    }
}

/// Plays tones that follow each other without a gap, for `seconds`; `on_end` hears of the end. `None` where the
/// browser gives no sound.
pub(crate) fn play(tones: &[Tone], seconds: f64, on_end: impl FnOnce() + 'static) -> Option<Playing> {
    let context = AudioContext::new().ok()?;
    let (source, gain) = (context.create_oscillator().ok()?, context.create_gain().ok()?);
    gain.gain().set_value(LOUDNESS);
    source.connect_with_audio_node(&gain).ok()?;
    gain.connect_with_audio_node(&context.destination()).ok()?;
    let start = context.current_time() + 0.05;
    for tone in tones {
        #[expect(
            clippy::cast_possible_truncation,
            reason = "a pitch needs no more digits than the sound card has"
        )]
        let pitch = tone.pitch as f32;
        source.frequency().linear_ramp_to_value_at_time(pitch, start + tone.at).ok()?;
    }
    let ended = Closure::once_into_js(on_end);
    source.set_onended(Some(ended.unchecked_ref()));
    source.start_with_when(start).ok()?;
    source.stop_with_when(start + seconds).ok()?;
    Some(Playing(context))
}
