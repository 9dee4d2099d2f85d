//! The kinds of entries: what each says, line by line, in the order in which the lines stand.
//!
//! This list is the definition of the ledger's content. A kind or a line may be added; none may be changed or
//! removed, because records that exist must stay readable: the one word that was changed is in `older`. It judges nothing.

use super::kind::{KindForm, LineForm, Often};
use super::line::{Lines, Reader, TextFault};
use super::value::{
    BlobRef, Capacity, Carried, Cause, Class, Disposition, EntryNumber, IssuedStep, KeptPage, Reading, Stops, Value,
};
use crate::calendar::Day;
use crate::ident::{Digest, SheetCode};
use crate::words::Hand;

entries! {
    /// The archive of an aircraft begins.
    Begun = "begun" {
        /// Name of the aircraft.
        aircraft "aircraft": one String,
        /// Its serial number.
        serial "serial": maybe String,
        /// Its registration.
        registration "registration": maybe String,
    }
    /// The aircraft has another name or number from here on.
    Renamed = "renamed" {
        /// Its name.
        aircraft "aircraft": one String,
        /// Its serial number.
        serial "serial": maybe String,
        /// Its registration.
        registration "registration": maybe String,
        /// Who says so.
        by "by": one String,
        /// When.
        on "on": one Day,
        /// Why.
        because "because": one String,
    }
    /// A sheet was printed for signing: one traveler, one hand.
    Issued = "issued" {
        /// Its code.
        sheet "sheet": one SheetCode,
        /// Id of the traveler.
        traveler "traveler": one String,
        /// The hand; absent for a one-off.
        hand "hand": maybe Hand as "text",
        /// Title of the traveler.
        title "title": one String,
        /// Revision of the traveler.
        revision "revision": one String,
        /// Why the revision is one under which another sheet of the traveler was issued.
        same_revision "same-revision": maybe String,
        /// Day of the print.
        printed "printed": one Day,
        /// The sheet that it replaces.
        supersedes "supersedes": maybe SheetCode,
        /// Drawing sheet and revision, `W-210:C`.
        drawings "drawing": many String,
        /// What was printed.
        pdf "pdf": one BlobRef,
        /// Number of pages.
        pages "pages": one u32,
        /// What each step requires, line by line.
        requirements "requirements": one BlobRef,
        /// The traveler's file as it was.
        spec "spec": maybe BlobRef,
        /// The project file as it was.
        project "project": maybe BlobRef,
        /// The place of every sign-off box, and what stands on which page.
        places "places": maybe BlobRef,
        /// What tells the pages of this print from those of any other, as in the code on each.
        print "print": maybe SheetCode,
        /// Pages of earlier prints that stay in the packet, where only pages were replaced.
        kept "kept-page": many KeptPage,
        /// SHA-256 of the hardware tables that judged it.
        tables "tables": one Digest,
        /// SHA-256 of the templates that drew it.
        templates "templates": one Digest,
        /// Name and version of the program.
        program "program": one String,
        /// Its steps in working order.
        steps "step": many IssuedStep,
        /// Signatures of the sheet before that go on.
        carried "carried": many Carried,
    }
    /// An issued sheet was printed once more.
    Reprinted = "reprinted" {
        /// Its code.
        sheet "sheet": one SheetCode,
        /// Day of the print.
        printed "printed": one Day,
        /// What was printed.
        pdf "pdf": one BlobRef,
        /// Number of pages.
        pages "pages": maybe u32,
        /// The place of every sign-off box, and what stands on which page.
        places "places": maybe BlobRef,
        /// What tells the pages of this print from those of any other, as in the code on each.
        print "print": maybe SheetCode,
        /// Pages of earlier prints that stay in the packet, where only pages were replaced.
        kept "kept-page": many KeptPage,
        /// Why.
        because "because": maybe String,
    }
    /// The paper of a replaced sheet was marked and taken off the bench.
    Superseded = "superseded" {
        /// The old sheet.
        sheet "sheet": one SheetCode,
        /// The sheet in its place.
        replaced_by "replaced-by": one SheetCode,
        /// Whether the paper is kept, because it carries signatures.
        kept "kept": one bool,
        /// Pages counted.
        pages "pages": maybe u32,
        /// Who.
        by "by": one String,
        /// When.
        on "on": one Day,
    }
    /// A sheet no longer counts, and none takes its place.
    Voided = "voided" {
        /// The sheet.
        sheet "sheet": one SheetCode,
        /// Who.
        by "by": one String,
        /// When.
        on "on": one Day,
        /// Why.
        because "because": one String,
    }
    /// The paper of a sheet cannot be found.
    Lost = "lost" {
        /// The sheet.
        sheet "sheet": one SheetCode,
        /// Who.
        by "by": one String,
        /// When it was missed.
        on "on": one Day,
        /// What is known.
        because "because": one String,
    }
    /// A step was signed on a sheet.
    Signed = "signed" {
        /// The sheet's code.
        sheet "sheet": one SheetCode,
        /// Id of the traveler.
        traveler "traveler": one String,
        /// The hand; absent for a one-off.
        hand "hand": maybe Hand as "text",
        /// Name of the step.
        step "step": one String,
        /// SHA-256 of what the step required.
        requirement "requirement": one Digest,
        /// What the signature is for.
        capacity "for": one Capacity,
        /// Id of the stage, where it is for one.
        stage "stage": maybe String,
        /// What a releasing signer wrote about the stage, in the words of the project.
        outcome "outcome": maybe String,
        /// In which role.
        role "role": one String,
        /// Initials.
        by "by": one String,
        /// What the role asks for beside its box.
        asked "asked": many Reading,
        /// Day of the work.
        worked "worked": one Day,
        /// Days from the work to the entry, where that is more than one.
        late "entered-late": maybe u32,
        /// Minutes of work.
        minutes "minutes": maybe u32,
        /// Who helped.
        helpers "helper": many String,
        /// Who helped for pay.
        paid "paid-helper": many String,
        /// Values that were read.
        readings "reading": many Reading,
        /// Numbers of photos.
        photos "photo": many String,
        /// Numbers of discrepancies.
        discrepancies "discrepancy": many String,
        /// What was fitted, where the plans leave a choice.
        as_built "as-built": many String,
        /// Where the work was done.
        place "place": maybe String,
        /// Anything else.
        note "note": maybe String,
        /// From what a lost signature was put together again.
        reconstructed "reconstructed-from": maybe String,
    }
    /// Work done before there was an archive.
    Imported = "imported" {
        /// Name of the file.
        source "source": one String,
        /// The file as it was.
        file "file": one BlobRef,
        /// Id of the traveler.
        traveler "traveler": one String,
        /// The hand; absent for a one-off.
        hand "hand": maybe Hand as "text",
        /// Name of the step.
        step "step": one String,
        /// SHA-256 of what the step required on the day of the import.
        requirement "requirement": one Digest,
        /// Initials.
        by "by": maybe String,
        /// Day of the work.
        worked "worked": one Day,
        /// Minutes of work.
        minutes "minutes": maybe u32,
        /// Values that were read.
        readings "reading": many Reading,
    }
    /// One line of an earlier entry was wrong.
    Corrected = "corrected" {
        /// The entry.
        entry "entry": one EntryNumber,
        /// Key of the line; of a reading, `reading` and its id.
        field "field": one String,
        /// What stood there.
        was "was": maybe String,
        /// What holds.
        now "now": maybe String,
        /// Who.
        by "by": one String,
        /// When.
        on "on": one Day,
        /// Why.
        because "because": one String,
    }
    /// An earlier entry was struck out: it no longer counts.
    Struck = "struck" {
        /// The entry.
        entry "entry": one EntryNumber,
        /// Who.
        by "by": one String,
        /// When.
        on "on": one Day,
        /// Why.
        because "because": one String,
    }
    /// The change note in front of a sheet was read; signatures that waited for that stand.
    ReadThrough = "read-through" {
        /// The new sheet.
        sheet "sheet": one SheetCode,
        /// Who.
        by "by": one String,
        /// When.
        on "on": one Day,
    }
    /// A file was added: a scan, a photo, a letter.
    Added = "added" {
        /// The file.
        file "file": one BlobRef,
        /// Its name as it came.
        name "name": one String,
        /// The sheet to which it belongs.
        sheet "sheet": maybe SheetCode,
        /// The step.
        step "step": maybe String,
        /// The discrepancy.
        discrepancy "discrepancy": maybe String,
        /// Number of the photo as on the paper.
        photo "photo": maybe String,
        /// The space that it shows.
        space "space": maybe String,
        /// Day on which it was taken.
        taken "taken": maybe Day,
        /// What it shows.
        caption "caption": maybe String,
        /// Whether the builder is in the picture.
        builder_seen "builder-in-picture": maybe bool,
        /// Who added it.
        by "by": maybe String,
    }
    /// Something is not as it should be.
    DiscrepancyOpened = "discrepancy-opened" {
        /// Its number.
        number "discrepancy": one String,
        /// How it came up.
        cause "cause": one Cause,
        /// The sheet.
        sheet "sheet": maybe SheetCode,
        /// Id of the traveler.
        traveler "traveler": maybe String,
        /// The hand.
        hand "hand": maybe Hand as "text",
        /// Name of the step.
        step "step": maybe String,
        /// Other steps for which the same was found.
        also "also-step": many String,
        /// The space.
        space "space": maybe String,
        /// The joint.
        joint "joint": maybe String,
        /// What is wrong.
        what "what": one String,
        /// What should be.
        should "should-be": maybe String,
        /// What is.
        is "is": maybe String,
        /// How far it stops the work.
        stops "stops": one Stops,
        /// How much it weighs.
        class "weight": one Class,
        /// Numbers of photos.
        photos "photo": many String,
        /// Who found it.
        by "by": one String,
        /// When.
        found "found": one Day,
    }
    /// A discrepancy was decided and dealt with.
    DiscrepancyClosed = "discrepancy-closed" {
        /// Its number.
        number "discrepancy": one String,
        /// What was decided.
        disposition "disposition": one Disposition,
        /// On whose word.
        authority "authority": one String,
        /// Letter, table or paragraph.
        reference "reference": maybe String,
        /// Values read afterwards.
        after "after": many Reading,
        /// What was fitted or changed for good.
        as_built "as-built": many String,
        /// Who.
        by "by": one String,
        /// When.
        on "on": one Day,
        /// Who looked at it.
        looked "looked-at-by": maybe String,
    }
    /// Somebody came to look.
    Visited = "visited" {
        /// Initials of the visitor.
        by "by": one String,
        /// In which role.
        role "role": one String,
        /// When.
        on "on": one Day,
        /// Spaces that were open.
        spaces "space": many String,
        /// The visitor's own report number.
        reference "reference": maybe String,
        /// Anything else.
        note "note": maybe String,
    }
    /// What a visitor found.
    Finding = "visit-finding" {
        /// The visit's entry.
        visit "visit": one EntryNumber,
        /// Number on the visit's page.
        number "finding": one String,
        /// The space.
        space "space": maybe String,
        /// Id of the traveler.
        traveler "traveler": maybe String,
        /// What.
        what "what": one String,
        /// What the visitor suggests.
        suggested "suggested": maybe String,
        /// Whether it must be dealt with before the space closes.
        before_close "before-close": one bool,
        /// The discrepancy that was opened for it.
        discrepancy "discrepancy": maybe String,
    }
    /// A visitor's finding was answered.
    Answered = "finding-answered" {
        /// The finding's entry.
        finding "finding": one EntryNumber,
        /// What was done.
        answer "answer": one String,
        /// Who.
        by "by": one String,
        /// When.
        on "on": one Day,
    }
    /// A notice told what a change of the plans does to signed work.
    Noticed = "notice" {
        /// Its number.
        number "notice": one String,
        /// What it rests on.
        source "source": maybe String,
        /// Drawing sheet with old and new revision, `W-210:C to D`.
        drawings "drawing": many String,
        /// The notice as printed.
        pdf "pdf": maybe BlobRef,
        /// The notice as data.
        data "data": maybe BlobRef,
        /// Sheets to take out.
        remove "remove": many SheetCode,
        /// Sheets to put in.
        insert "insert": many SheetCode,
        /// When.
        on "on": one Day,
    }
}
