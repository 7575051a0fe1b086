//! What is wrong with the words of a design, and with what they promise.

use super::{Entry, entry_of};

/// In alphabetical order.
pub const REVIEW: &[Entry] = &[
    entry_of(
        "about-disagrees",
        "The words about the design stand on the cover and in the shop. A buyer who reads of sizes or \
         cloth that the booklet does not have asks for her money back.",
    ),
    entry_of(
        "accepted-unused",
        "An entry under `accepted:` lets a warning stand. This one matches none, so it may hide a \
         warning that comes later without your having looked at it. An error is never accepted: a \
         booklet with one must not be sold.",
    ),
    entry_of(
        "age-long-cord",
        "A cord of more than 22 cm can go round the neck of a small child and strangle it. Toys for \
         children under three have none (EN 71-1). The age line must keep small children away, or the \
         cord must go. The rules where you live come first.",
    ),
    entry_of(
        "age-small-parts",
        "Children under three put everything into their mouths and can choke on buttons, beads and \
         eyelets. The age line must keep them away, or the parts must go (EN 71-1, 16 CFR 1501). The \
         rules where you live come first.",
    ),
    entry_of(
        "allowance-text",
        "Whether the allowance is in the pieces, and how much it is, decides where every buyer cuts. \
         Words that say otherwise than the plates make the thing too small or too large by twice the \
         allowance.",
    ),
    entry_of(
        "braces-left",
        "A value stands in double braces. In single ones its name is printed as it stands, and the \
         buyer reads a word of the file instead of a length.",
    ),
    entry_of(
        "caption-disagrees",
        "The caption names pieces that the figure does not show, so a reader looks for them in vain. \
         Usually the words or the figure were copied from another step.",
    ),
    entry_of(
        "chapter-unread",
        "A file that lies beside the chapters and ends otherwise, or in a folder that is spelt otherwise, \
         is not printed. What it says is missing from the booklet.",
    ),
    entry_of(
        "closed-before-turned",
        "What is sewn wrong side out must be turned through a gap before the gap is closed. In this \
         order, or without a gap, the buyer has to unpick her seam.",
    ),
    entry_of(
        "closure-not-bought",
        "The draft counts on ribbon or elastic to hold the shoe. Where the list of trims has neither, the \
         buyer sews a shoe that stays open.",
    ),
    entry_of(
        "cloth-disagrees",
        "The steps have a piece cut from one cloth, and the cutting list from another. The buyer cuts \
         into the wrong cloth, and it will not be enough.",
    ),
    entry_of(
        "cloth-unused",
        "A cloth that nothing is cut from is bought for nothing. Often a piece was taken out of the \
         design, or the `cut:` of a piece names another cloth.",
    ),
    entry_of(
        "contact-unusable",
        "The contact is where buyers report mistakes. Without a whole address nobody reaches you, and \
         the next buyer meets the same mistake.",
    ),
    entry_of(
        "count-disagrees",
        "The steps count other pieces than the cutting list. The buyer cuts too few, or one in vain, \
         and cannot tell which of the two is right.",
    ),
    entry_of(
        "edition-order",
        "The history of editions tells buyers whether to print plates anew. A history that is newer \
         than the edition itself, or out of order, tells them wrongly.",
    ),
    entry_of(
        "entity-left",
        "Letters are written as they are. What web pages write for them is printed sign by sign where \
         the text is no Markdown.",
    ),
    entry_of(
        "figure-disagrees",
        "The figure of a step shows another edge, side or layer than its words name. The buyer who trusts \
         her eyes and the one who trusts the text sew different things, and one of them unpicks.",
    ),
    entry_of(
        "figure-far",
        "A reader looks for a figure where she is working. One that stands some steps away makes her \
         leaf through the booklet with both hands full.",
    ),
    entry_of(
        "figure-number",
        "A number that is typed by hand sends the reader to a figure that is not there. Numbers change \
         when figures are added; a figure that is asked for by its name has always the right one.",
    ),
    entry_of(
        "figure-unreferred",
        "A reader looks at a figure when the text sends her there. One that no sentence names is \
         looked at too late, or never.",
    ),
    entry_of(
        "fold-missing",
        "The label of a piece tells to lay it on the fold, and it is drawn whole. Who does so cuts it twice \
         as large.",
    ),
    entry_of(
        "gap-disagrees",
        "The gap for turning is told in two places by two lengths. Who turns the work through the shorter \
         one tears it, and who wonders which is right loses her trust in the rest.",
    ),
    entry_of(
        "gap-left-open",
        "The work is turned through a gap, and no step closes it. The buyer is left with a hole and \
         asks what she has missed.",
    ),
    entry_of(
        "glossary-unused",
        "Only words that the text uses are printed in the list of words. This one explains a word \
         that is nowhere; perhaps the text was changed, or spells it in another way.",
    ),
    entry_of(
        "grain-disagrees",
        "Cut on the bias a piece stretches, and straight it does not. When the text and the grain line \
         say different things, the piece does not lie where it should.",
    ),
    entry_of(
        "language-cautions-differ",
        "A caution that one language lacks does not protect those who read it. Warn of the same things in \
         all of them.",
    ),
    entry_of(
        "language-figures-differ",
        "A figure is missing in one language, or draws something else there. What is sewn hangs on the \
         language in which it is read.",
    ),
    entry_of(
        "language-head-differs",
        "Title, age, address and sizes are copied and translated by hand. The buyer who cannot reach you, \
         or whose child is too young for it, read it in the other language.",
    ),
    entry_of(
        "language-mixed",
        "A sentence is in another language than its chapter. It was probably left when the chapter \
         was translated, and who reads only one of them cannot follow it.",
    ),
    entry_of(
        "language-steps-differ",
        "The steps of all languages are the same work. A step that one language lacks is never done \
         by those who read it, and the numbers of the steps no longer agree.",
    ),
    entry_of(
        "language-values-differ",
        "A step asks for other measures in one language than in the other, so one of the two readers \
         cuts or sews to the wrong one.",
    ),
    entry_of(
        "language-words-differ",
        "Inner and outer, two and three, the right and the wrong side are slips that no reader of one \
         language alone can see.",
    ),
    entry_of(
        "length-disagrees",
        "A length that is typed does not follow when a measure changes. A value in braces is always that of \
         the pieces, in both units.",
    ),
    entry_of(
        "length-unit",
        "A length in the text has no unit, or two. A value in braces brings its own unit, so that one \
         typed behind it stands there twice; and a bare number may be millimetres or inches.",
    ),
    entry_of(
        "letter-disagrees",
        "The letters of a figure show places that are hard to describe. One that is not in the figure, or \
         stands elsewhere in it, sends the buyer to the wrong place.",
    ),
    entry_of(
        "listing-disagrees",
        "The listing is what the buyer believes she buys. Sizes, papers, languages or materials that \
         the booklet does not have are a promise that is not kept.",
    ),
    entry_of(
        "makes-disagrees",
        "The numbers under `cut:` are for all that the design says it makes. So few pieces do not \
         make so many things.",
    ),
    entry_of(
        "mark-words",
        "The words beside the lines of a piece tell which of them is a crease. On the wrong line they have \
         the piece folded in the wrong place.",
    ),
    entry_of(
        "markup-left",
        "A sign of Markdown did nothing and is printed as it stands: a head without its space is lost in \
         the step before, a caution without its name is no caution.",
    ),
    entry_of(
        "material-unlisted",
        "A step uses something that no list has. The buyer has bought what the lists say and stops in \
         the middle of the work.",
    ),
    entry_of(
        "needle-disagrees",
        "A needle of another size or for another tool than the list has makes holes, breaks the thread, or \
         cannot be used at all.",
    ),
    entry_of(
        "no-age",
        "Every booklet says for whom the finished thing is safe: for display, or from what age on. \
         Who gives it to a child must know.",
    ),
    entry_of(
        "no-contact",
        "Every booklet says where a buyer can ask or report a mistake. Without it the same mistake \
         meets every buyer.",
    ),
    entry_of(
        "no-cover",
        "The first page shows what the pattern is: its title and what it is about. A booklet that \
         begins without them looks as if a page were missing.",
    ),
    entry_of(
        "no-edition",
        "The edition tells a buyer whether a correction concerns her. It must stand in the text of \
         the booklet, not only on the plates.",
    ),
    entry_of(
        "no-maker",
        "The booklet does not say whose it is. Terms of use without a name behind them bind \
         nobody.",
    ),
    entry_of(
        "no-materials",
        "A buyer must know what to buy before she begins. A list that the booklet lacks, or that \
         lacks something, costs her a second way to the shop.",
    ),
    entry_of(
        "no-safety",
        "Every booklet has a part on safety: needles, hot irons, small parts, for whom the thing is \
         meant. A template of your own must print it too.",
    ),
    entry_of(
        "no-skill",
        "The booklet does not say what a buyer should be able to do. A beginner buys what she cannot \
         sew, and is disappointed.",
    ),
    entry_of(
        "no-small-parts-caution",
        "Small hard parts can choke a child. The booklet must name those of the design and say what \
         to do about them.",
    ),
    entry_of(
        "no-steps",
        "A buyer pays for being told how the thing is made. Chapters of steps are files `.md` in the \
         folder `booklet`, whose head says `kind: steps`.",
    ),
    entry_of(
        "no-terms",
        "Every booklet says what a buyer may do with the pattern, and whether she may sell what she \
         sews. Without it she has to ask, or does as she likes.",
    ),
    entry_of(
        "notch-count-disagrees",
        "Notches tell by their number which edges meet. A reader who is told of a double notch that \
         no piece has looks for another piece.",
    ),
    entry_of(
        "notch-missing",
        "The text matches notches that are not drawn. The buyer looks for them in vain and thinks that her \
         plates are wrong.",
    ),
    entry_of(
        "number-typed",
        "The text sends the reader to a page or plate by a number that the booklet does not have. \
         Numbers change when something is added, so say what is to be looked up.",
    ),
    entry_of(
        "pair-uneven",
        "Of a pair each has its own strap, elastic and button. An odd number leaves the second one \
         without.",
    ),
    entry_of(
        "piece-misspelt",
        "The word is one slip from a name of the design. A reader may wonder whether another piece is \
         meant.",
    ),
    entry_of(
        "piece-unknown-in-text",
        "The steps speak of a piece that the design has not. The buyer looks for it among the plates \
         and believes that one is missing.",
    ),
    entry_of(
        "piece-unmentioned",
        "Each piece that is cut must be used in some step, by its name. Otherwise the buyer is left \
         with it and asks what she has missed.",
    ),
    entry_of(
        "seam-twice",
        "Two steps sew the same seam. The buyer looks for another one, and cannot know which of the \
         steps to believe. Often a step was copied and its seam not changed.",
    ),
    entry_of(
        "seam-unmentioned",
        "Each seam of the design must be sewn in some step. A seam counts as told where a step that \
         sews names it, draws it, or names both its pieces.",
    ),
    entry_of(
        "sentence-twice",
        "A sentence stands twice in its step, or two steps are called the same. Often text was copied \
         and not changed; the buyer does the work twice, or loses her place.",
    ),
    entry_of(
        "sewn-before-cut",
        "The steps are done in their order. A piece that is sewn before it is cut cannot be there \
         yet.",
    ),
    entry_of(
        "size-unknown-in-text",
        "The text speaks of a size that the design has not. The buyer looks for its plates in vain, or \
         cuts along the wrong line.",
    ),
    entry_of(
        "step-reference",
        "The text sends the reader to a step by its number, and there is no such step. Numbers change \
         when steps are added, so name what is done rather than its number.",
    ),
    entry_of(
        "stitch-disagrees",
        "Thread is counted from the stitches of the design. With another stitch in the steps there is \
         too little, or the seam is not as strong as it should be.",
    ),
    entry_of(
        "text-unfinished",
        "A note of the designer to herself stands in the text, or a sentence breaks off. The buyer \
         reads what was never written to its end.",
    ),
    entry_of(
        "title-shared",
        "Two pieces with one title cannot be told apart in the steps, on the plates or in the list.",
    ),
    entry_of(
        "tool-unlisted",
        "A step asks for a tool that the list does not have. The buyer stops in the middle of the \
         work to look for it.",
    ),
    entry_of(
        "tool-unmentioned",
        "The list has a tool that no step uses, so it is bought for nothing. Often the step was \
         changed and the list was not.",
    ),
    entry_of(
        "trim-unmentioned",
        "Each trim that is bought must go somewhere in some step. Otherwise the buyer is left with it \
         and asks what she has missed.",
    ),
    entry_of(
        "units-disagree",
        "A length is written in both units, and they are not the same length. Who measures in the one \
         makes another thing than who measures in the other. One millimetre or four hundredths are \
         allowed for rounding.",
    ),
    entry_of(
        "value-disagrees",
        "A value of a piece stands beside a word for the other direction, or is printed where another one was \
         meant. The figure is right and the sentence is not.",
    ),
    entry_of(
        "word-twice",
        "A word stands twice in a row. It is a small slip that makes the whole booklet look \
         careless.",
    ),
    entry_of(
        "word-unexplained",
        "A word of the trade that the booklet does not explain. Words of the house's list are \
         explained by themselves; others need an entry under `glossary:`, or plainer words.",
    ),
];
