package sheet

// What the form to fill in by hand says beside the labels of its boxes, which are
// those of record.Fields.
const (
	formTitle      = "Visit to fill in"
	formCoachTitle = "%s: visit to fill in"
	formHow        = "Write what was read. Leave a box empty where nobody read: 0 is a reading."
	formCaution    = "Nobody goes under a coach that stands on its levelers. Local codes and trained, licensed people decide."

	formSeat      = "left and right from the driver's seat"
	formFrontUp   = "\u25b2 FRONT"
	formLeftSide  = "\u25c4 FRONT: down the left side"
	formRightSide = "up the right side: FRONT \u25ba"
	formFrontHere = "\u25c4 FRONT"
	formFrontEnd  = "FRONT \u25ba"
	formSpares    = "spares"

	formAsk       = "Ask"
	formFlat      = "Flat line, %d %% of last set, else of the placard:"
	formCold      = "Read cold, in one lap, before it is moved"
	formStop      = "At 0, or at or below its flat line: STOP at this tire, circle its number. No air goes in, whatever the next one shows."
	formLook      = "Look and measure: mark each sidewall looked at"
	formSeenNone  = "nothing"
	formSeenMore  = "no."
	formList      = "Seen, the worst first:"
	formStamps    = "as stamped"
	formDiffers   = "tire no."
	formSet       = "Set and torque"
	formRecheck   = "Common practice: nuts at 50 to 100 miles, cold check in 24 hours."
	formTell      = "Tell the owner"
	formSignature = "owner's signature"
	formWeigh     = "Weigh (cut off, take to the scale): mark what is so, write NO where not"
)
