"""Ranges in which amounts can be meant. What lies outside is a slip of the unit or of the point.

They are drawn wide: a range holds all that is built or found, and tells nothing of what is wise. Sources: where none
is named, common practice.
"""

from __future__ import annotations

from rigbook.language.within import Within
from rigbook.text.phrase import phrase

# signal
CUT = Within("5 Hz", "20 kHz", phrase("people hear from about 20 Hz to 20 kHz (IEC 60050-801, hearing)"))
CHANNEL_CUT = Within("10 Hz", "5 kHz", phrase("above 5 kHz nothing of a source would be left"))
DELAY = Within("0 ms", "5 s", phrase("in 5 s sound goes 1.7 km, and no picture is later"))
GAIN = Within("-100 dB", "60 dB", phrase("60 dB is a thousandfold voltage, more than a microphone wants"))
PREAMP = Within("-30 dB", "90 dB", phrase("preamplifiers end below 90 dB, where their own noise is all there is"))
ATTENUATION = Within("-100 dB", "100 dB", phrase("at 100 dB an input is off"))
LIMITER = Within("-60 dBu", "40 dBu", phrase("line outputs end below +30 dBu"))
LINE_LEVEL = Within("-90 dBu", "40 dBu", phrase("from a ribbon microphone to the greatest line output"))
FULL_SCALE = Within("0 dBu", "30 dBu", phrase("0 dBFS of a desk lies from 0 dBu to +28 dBu"))
# cables
CABLE = Within("5 cm", "10 km", phrase("longer than a site"))
CABLE_AREA = Within("0.05 mm2", "300 mm2", phrase("from a thin microphone core to a feeder cable"))
# sound
SOUND_LEVEL = Within("0 dB", "150 dB", phrase("0 dB is the threshold of hearing; 150 dB tears eardrums"))
NOISE = Within("0 dB", "110 dB", phrase("0 dB is the threshold of hearing; an empty room is quieter than a show"))
EXPOSED = Within("40 dB(A)", "140 dB(A)", phrase("40 dB(A) is a library; at 140 dB(A) a moment harms (WHO 2022)"))
EXPOSED_FOR = Within("1 min", "24 h", phrase("exposure is reckoned by the day (WHO 2022)"))
AVERAGED = Within("1 s", "24 h", phrase("limits are averaged over from a second to a day"))
# room
VOLUME = Within("5 m3", "5000000 m3", phrase("from a vocal booth to the largest arenas"))
TEMPERATURE = Within("-40 degC", "60 degC", phrase("nobody plays outside of it"))
SHARE = Within("0 %", "100 %", phrase("a share of a whole"))
RATIO = Within("1 %", "1000 %", phrase("a hundredth to tenfold"))
REVERBERATION = Within("0.05 s", "20 s", phrase("from a padded booth to the longest churches"))
EARS = Within("0.3 m", "3 m", phrase("from a child on the floor to a person on a riser"))
# mains
VOLTAGE = Within("90 V", "300 V", phrase("mains are 100 V to 277 V line to neutral (IEC 60038)"))
MAINS = Within("45 Hz", "65 Hz", phrase("mains are 50 Hz or 60 Hz (IEC 60038); a generator strays a little"))
CURRENT = Within("1 A", "5000 A", phrase("from a small breaker to a substation"))
DRAW = Within("0 W", "100 kW", phrase("no single device takes more"))
EFFICIENCY = Within("5 %", "100 %", phrase("an amplifier that wastes more would be a heater"))
# radio
CARRIER = Within("20 MHz", "10 GHz", phrase("audio is not sent below 20 MHz nor above 10 GHz"))
BANDWIDTH = Within("1 kHz", "50 MHz", phrase("from a step of tuning to a digital multichannel carrier"))
RADIO_POWER = Within("0.01 mW", "10 W", phrase("from a licence-free short-range device to a hand-held two-way radio"))
# kinds
WEIGHT = Within("1 g", "3000 kg", phrase("from an adaptor to a truss"))
CABLE_WEIGHT = Within("5 g", "20 kg", phrase("from a thin lead to the thickest mains cable"))
RACK_UNITS = Within("0.5 U", "60 U", phrase("racks end at 60 units"))
RACK_DEPTH = Within("10 mm", "1.5 m", phrase("racks are no deeper (IEC 60297)"))
RANGE = Within("1 Hz", "100 kHz", phrase("from a subwoofer to the widest microphone"))
LOAD = Within("50 g", "10000 kg", phrase("from a table stand to a hoist"))
REACH = Within("0 m", "40 m", phrase("from the floor to a lifting tower"))
POWER = Within("0.01 W", "50 kW", phrase("from a headphone to the greatest amplifier"))
IMPEDANCE = Within("1 ohm", "50 kohm", phrase("boxes are 2 ohm to 16 ohm; on a 100 V line, kilohms"))
LOWEST_LOAD = Within("0.5 ohm", "50 kohm", phrase("below half an ohm an output is a short"))
AMPLIFIER_GAIN = Within("0 dB", "60 dB", phrase("amplifiers have 20 dB to 45 dB"))
INPUT_VOLTAGE = Within("10 mV", "20 V", phrase("line outputs end below 20 V"))
SENSITIVITY = Within(
    "60 dB", "130 dB", phrase("1 W of sound sent all round gives 109 dB at 1 m; a horn gathers some of it")
)
PEAK_LEVEL = Within("70 dB", "170 dB", phrase("air itself distorts above"))
MIC_DISTANCE = Within("1 mm", "30 m", phrase("from a clip on the instrument to a pair over an orchestra"))
MICROPHONE = Within("0.01 mV/Pa", "500 mV/Pa", phrase("from a ribbon to an active measuring microphone"))
TAKES = Within("80 dB", "190 dB", phrase("speech near a microphone is 80 dB or more; 194 dB is a vacuum"))
DISTANCE = Within("0 m", "100 m", phrase("the length of a field"))
LOSS = Within("0 dB", "20 dB", phrase("at 20 dB a hundredth of the power arrives"))
COPPER = Within("-40 degC", "90 degC", phrase("insulation ends there"))
HEADROOM = Within("-20 dB", "60 dB", phrase("more than any amplifier has"))
LIFT = Within("1 kg", "100 kg", phrase("nobody lifts more alone"))
GUARD = Within("0 kHz", "50 MHz", phrase("wider than a band of one system"))
HEAT = Within("0 W", "20 kW", phrase("no rack gives more"))
