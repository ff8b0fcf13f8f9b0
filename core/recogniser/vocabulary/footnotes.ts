/** What a footnote may say without changing what a value is: how it was measured, that it was not cold, or under whose accreditation. Longest first. */
export const HARMLESS_NOTES: readonly RegExp[] = [
  /\b(?:din |uni |nf |une |bs |ss-)?(?:en |iso |en iso )\d{3,5}(?:-\d{1,2})?(?::(?:19|20)\d\d)?\b/g,
  /\bastm (?:a751|e ?\d{3,4})(?:\/e?\d{3,4}m?)?\b/g,
  /\b(?:icp|icp[- ]oes|icp[- ]aes|oes|xrf|rfa|leco)\b/g,
  /\b(?:optical|spark|emission|x-ray|fluorescence|infrared|spectromet(?:ry|er|ric)|spectroscopy|combustion|inert gas fusion)\b/g,
  /\b(?:spektrometrie|spektralanalyse|funkenspektrometrie|verbrennungsanalyse|spectrométrie|spettrometria|espectrometría)\b/g,
  /\b(?:outside (?:the )?scope of accreditation|not accredited|nicht akkreditiert|non accrédité|non accreditato|no acreditado)\b/g,
  /\b(?:at room temperature|bei raumtemperatur|à température ambiante|a temperatura ambiente)\b/g,
  /\b(?:determined|measured|analysed|analyzed|tested|bestimmt|method|methods|methode|méthode|metodo|método)\b/g,
  /\b(?:by|with|using|according to|acc\. to|as per|nach|gemäß|mit|durch|par|selon|per|secondo|por|según)\b/g,
];
