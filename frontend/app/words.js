// The closed lists of the API with the words that stand for them on the pages.

/** @typedef {[string, string][]} Choices */

/** @type {Choices} */
export const UNITS = [['cm', 'centimetres'], ['in', 'inches']];
/** @type {Choices} */
export const TERMS = [['us', 'US terms'], ['uk', 'UK terms']];
/** @type {Choices} */
export const CRAFTS = [['crochet', 'crochet'], ['knit', 'knit']];
/** @type {Choices} */
export const AUDIENCES = [['woman', 'woman'], ['man', 'man'], ['unisex', 'unisex'], ['youth', 'youth'], ['child', 'child'], ['baby', 'baby']];
/** @type {Choices} */
export const ROLES = [['designer', 'designer'], ['tech_editor', 'tech editor'], ['maker', 'maker'], ['filmer', 'filmer'], ['tester', 'tester']];
/** @type {Choices} */
export const COUNT_UNITS = [['stitch', 'stitches'], ['row', 'rows'], ['repeat', 'repeats'], ['row_number', 'row number']];
/** @type {Choices} */
export const AXES = [['stitch', 'across (stitches)'], ['row', 'along (rows)']];

/** @param {Choices} choices @param {string} value */
export const word = (choices, value) => choices.find(([v]) => v === value)?.[1] ?? value;
