"""What people are told, by mail: once a cause, recipient and kind.

A reaction to the journal makes the notice and sends it. The notice is claimed before SMTP and
carries a Message-ID made from what it is, so that a crash between the server's "250" and our mark
may double one mail, and a good mail reader still shows it once. Nothing about a contested label
leaves the house. Texts are plain substitution, in the language of the person.

A stop-use notice goes to everybody at an owner who has an address, whatever they want to be told
of and whatever the hour, and waits until somebody there has confirmed it.
"""
