"""What a lead reads of the standards: what each rule does, in a sentence, for commands and screens alike."""
