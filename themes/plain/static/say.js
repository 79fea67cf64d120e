// Words of the scripts, in the language of the pages: `say("and {n} more", { n: 3 })`. The texts are the English ones;
// `words.js` holds what they are in another language, and is there only where the pages speak one.
"use strict";
const say = (message, values = {}) =>
  ((window.rigbookWords || {})[message] || message).replace(/\{(\w+)\}/g, (whole, name) => (name in values ? values[name] : whole));
// between two texts, with the space that the language sets before its signs
const apart = { semicolon: `${say(";")} `, colon: `${say(":")} ` };
