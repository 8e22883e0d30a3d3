"""Sheets under boards: stacks, their changes, when they are dry, what calls.

Pure. It knows how the edition names sheets; sessions, views and the edges may come in.

Decisions, numbered as in DEVELOPERS.md:

33. **Boards call once, and once more when late.** A wait at the bench is called for until a tread
    answers, but blotters can wait an hour, and who is not in the studio would be taught to mute
    it. All that waits at an hour is one call, told from others by that hour and not by the boot
    clock, against which the wall shifts. A sounding is no entry: changed, late and left are.
62. **A verdict moves a sheet.** Spoiled before its last step is done, it is set aside and joins
    no stack. Judged spoiled later, it is lifted; judged anew, the lift is taken back, so no
    change of blotters moves. A try given up before its pull has its sheet back in its pack unless
    the printer says that it is lost. Price: a spoiled sheet that still stays under boards is laid
    there by `benchapp boards --lay`. Where two books judge one sheet apart, it may be out of its
    stack though the later word keeps it.
"""
